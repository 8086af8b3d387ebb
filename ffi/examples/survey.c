/*
 * Feeds a sweep to a survey, prints what stands at each carrier of a window, and plans three links
 * where it is quiet. The readings are invented: a floor of -106 dBm, somebody at 606.500 MHz, and
 * nothing at all heard above 607.500.
 *
 * New here: spurless_survey_start, _add, _floor, _verdict, and a plan that uses the survey.
 *
 * Give other readings as arguments, three numbers each: from (Hz), to (Hz), level (0.01 dBm).
 */
#include "spurless.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define CARRIERS 81
#define LINKS 3
static uint64_t heard_memory[SPURLESS_SURVEY_MEMORY(CARRIERS) / 8];
static uint64_t plan_memory[SPURLESS_PLAN_MEMORY(LINKS, CARRIERS, 1, 0, 0) / 8];

static const spurless_window window = { 606000000, 608000000, 25000 };

static int failed(const char *what, int32_t status)
{
    fprintf(stderr, "%s: %s\n", what, spurless_status_text(status));
    return 1;
}

static int32_t listen(spurless_survey *survey, int count, char **words)
{
    uint32_t low_hz;
    int32_t status;

    if (count < 3) {
        for (low_hz = 605987500; low_hz < 607500000; low_hz += 25000) {
            status = spurless_survey_add(survey, low_hz, low_hz + 25000, -10600);
            if (status != SPURLESS_STATUS_OK)
                return status;
        }
        return spurless_survey_add(survey, 606400000, 606600000, -6100);
    }
    for (; count >= 3; count -= 3, words += 3) {
        status = spurless_survey_add(survey, (uint32_t)strtoul(words[0], NULL, 10),
                                     (uint32_t)strtoul(words[1], NULL, 10),
                                     (int32_t)strtol(words[2], NULL, 10));
        if (status != SPURLESS_STATUS_OK)
            return status;
    }
    return SPURLESS_STATUS_OK;
}

static int32_t print_verdicts(spurless_survey *survey)
{
    static const char *const words[] = { "unheard", "quiet", "busy" };
    spurless_verdict verdict;
    uint32_t place, carrier_hz;
    int32_t status, floor;

    status = spurless_survey_floor(survey, &floor);
    if (status == SPURLESS_STATUS_OK)
        printf("floor %ld\n", (long)floor);
    for (place = 0; place < CARRIERS; place++) {
        status = spurless_raster_at(&window, place, &carrier_hz);
        if (status != SPURLESS_STATUS_OK)
            return status;
        status = spurless_survey_verdict(survey, carrier_hz, 200000, 1000, &verdict);
        if (status != SPURLESS_STATUS_OK)
            return status;
        printf("%lu %s %ld %ld\n", (unsigned long)carrier_hz, words[verdict.heard],
               (long)verdict.level_hundredths_db, (long)verdict.over_floor_hundredths_db);
    }
    return SPURLESS_STATUS_OK;
}

static int32_t print_plan(spurless_survey *survey)
{
    spurless_link links[LINKS];
    spurless_problem problem;
    spurless_plan *plan;
    spurless_progress progress;
    uint32_t carrier_hz;
    size_t index;
    int32_t status;

    memset(links, 0, sizeof links);
    memset(&problem, 0, sizeof problem);
    for (index = 0; index < LINKS; index++) {
        links[index].windows = &window;
        links[index].window_count = 1;
        links[index].bandwidth_hz = 200000;
    }
    problem.links = links;
    problem.link_count = LINKS;
    problem.survey = survey;
    problem.margin_hundredths_db = 1000;
    problem.unheard = SPURLESS_UNHEARD_AVOID;
    problem.spacing_hz = 300000;
    problem.guards.two_transmitter_3_hz = 99999;
    problem.guards.three_transmitter_3_hz = 49999;
    problem.guards.two_transmitter_5_hz = SPURLESS_GUARD_OFF;
    problem.guards.three_transmitter_5_hz = SPURLESS_GUARD_OFF;
    problem.guards.two_transmitter_7_hz = SPURLESS_GUARD_OFF;

    status = spurless_plan_start(plan_memory, sizeof plan_memory, &problem, SPURLESS_PLAN_BUDGET, &plan);
    if (status != SPURLESS_STATUS_OK)
        return status;
    do {
        status = spurless_plan_step(plan, 1000, &progress);
        if (status != SPURLESS_STATUS_OK)
            return status;
    } while (progress.stage != SPURLESS_PLAN_STAGE_DONE);
    for (index = 0; index < LINKS; index++) {
        status = spurless_plan_carrier(plan, index, &carrier_hz);
        if (status == SPURLESS_STATUS_OK)
            printf("link %lu\n", (unsigned long)carrier_hz);
        else if (status != SPURLESS_STATUS_NOT_THERE)
            return status;
    }
    return SPURLESS_STATUS_OK;
}

int main(int argc, char **argv)
{
    spurless_survey *survey;
    int32_t status;

    status = spurless_survey_start(heard_memory, sizeof heard_memory, &window, &survey);
    if (status != SPURLESS_STATUS_OK)
        return failed("start", status);
    status = listen(survey, argc - 1, argv + 1);
    if (status != SPURLESS_STATUS_OK)
        return failed("reading", status);
    status = print_verdicts(survey);
    if (status != SPURLESS_STATUS_OK)
        return failed("verdict", status);
    status = print_plan(survey);
    if (status != SPURLESS_STATUS_OK)
        return failed("plan", status);
    return 0;
}
