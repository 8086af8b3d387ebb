/*
 * Plans the demo shoot and prints a line "label carrier_hz" for each link. The shoot is invented;
 * its values are those of demo-data/shoot.json.
 *
 * New here: spurless_raster_meet, spurless_plan_start, _step, _outcome, _carrier, _spares,
 * _certificate, _loosening, spurless_status_text.
 */
#include "spurless.h"

#include <stdio.h>
#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* Six links and two spares for each of four; groups: the four, the desk, the presenter. */
#define SEATS (6 + 4 * 2)
#define STEPS (1681 + 121 + 191)
static uint64_t memory[SPURLESS_PLAN_MEMORY(SEATS, STEPS, 3, 6, 5) / 8];

static const spurless_window receiver = { 522000000, 564000000, 25000 };
static const spurless_window desk = { 548100000, 572100000, 200000 };
static const spurless_window presenter = { 534125000, 557875000, 125000 };

static spurless_label label(const char *text)
{
    spurless_label made;
    made.text = text;
    made.length = strlen(text);
    return made;
}

static spurless_link link_of(const char *name, const spurless_window *window, uint8_t spares)
{
    spurless_link made;
    made.label = label(name);
    made.windows = window;
    made.window_count = 1;
    made.bandwidth_hz = 200000;
    made.present_hz = 0;
    made.is_held = 0;
    made.spares = spares;
    return made;
}

static spurless_foreign foreign_of(const char *name, uint32_t carrier_hz)
{
    spurless_foreign made;
    made.label = label(name);
    made.carrier_hz = carrier_hz;
    made.is_protected = 1;
    return made;
}

static spurless_stretch stretch(uint32_t low_hz, uint32_t high_hz, const char *why)
{
    spurless_stretch made;
    made.low_hz = low_hz;
    made.high_hz = high_hz;
    made.why = label(why);
    return made;
}

static int failed(const char *what, int32_t status)
{
    fprintf(stderr, "%s: %s\n", what, spurless_status_text(status));
    return 1;
}

static int print_loosenings(const spurless_plan *plan)
{
    char text[200];
    size_t length, index;
    int32_t worth, status;

    for (index = 0;; index++) {
        status = spurless_plan_loosening(plan, index, &worth, text, sizeof text, &length);
        if (status == SPURLESS_STATUS_NOT_THERE)
            return 0;
        if (status != SPURLESS_STATUS_OK)
            return failed("loosening", status);
        if (worth == SPURLESS_LOOSENING_WORTH_WORKS)
            fprintf(stderr, "it would work to: %s\n", text);
    }
}

int main(void)
{
    spurless_window shared;
    spurless_link links[6];
    spurless_foreign foreign[6];
    spurless_stretch permits[2], blocked[3];
    spurless_problem problem;
    spurless_plan *plan;
    spurless_progress progress;
    spurless_certificate certificate;
    uint32_t carrier_hz, spares_hz[2];
    size_t index, spare, count;
    int32_t status, outcome, spare_use;

    /* The presenter's transmitter and receiver step differently: only what both have counts. */
    status = spurless_raster_meet(&receiver, &presenter, &shared);
    if (status != SPURLESS_STATUS_OK)
        return failed("presenter", status);

    links[0] = link_of("L1", &receiver, 2);
    links[1] = link_of("L2", &receiver, 2);
    links[2] = link_of("L3", &receiver, 2);
    links[3] = link_of("L4", &receiver, 2);
    links[4] = link_of("L5", &desk, 0);
    links[5] = link_of("L6", &shared, 0);
    foreign[0] = foreign_of("house 1", 535500000);
    foreign[1] = foreign_of("house 2", 539450000);
    foreign[2] = foreign_of("house 3", 541550000);
    foreign[3] = foreign_of("house 4", 547900000);
    foreign[4] = foreign_of("crew 1", 540950000);
    foreign[5] = foreign_of("crew 2", 542825000);
    permits[0] = stretch(470000000, 606000000, "demo rules, licence held");
    permits[1] = stretch(614000000, 694000000, "demo rules, licence held");
    blocked[0] = stretch(510000000, 518000000, "television channel 26");
    blocked[1] = stretch(526000000, 534000000, "television channel 28");
    blocked[2] = stretch(550000000, 558000000, "television channel 31");

    problem.links = links;
    problem.link_count = COUNT(links);
    problem.foreign = foreign;
    problem.foreign_count = COUNT(foreign);
    problem.permits = permits;
    problem.permit_count = COUNT(permits);
    problem.blocked = blocked;
    problem.blocked_count = COUNT(blocked);
    problem.survey = NULL;
    problem.margin_hundredths_db = 1000;
    problem.unheard = SPURLESS_UNHEARD_AVOID;
    problem.spacing_hz = 400000;
    problem.guards.two_transmitter_3_hz = 75000;
    problem.guards.three_transmitter_3_hz = 25000;
    problem.guards.two_transmitter_5_hz = SPURLESS_GUARD_OFF;
    problem.guards.three_transmitter_5_hz = SPURLESS_GUARD_OFF;
    problem.guards.two_transmitter_7_hz = SPURLESS_GUARD_OFF;

    status = spurless_plan_start(memory, sizeof memory, &problem, SPURLESS_PLAN_BUDGET, &plan);
    if (status != SPURLESS_STATUS_OK)
        return failed("start", status);
    do {
        /* Between steps a program may show progress, serve its display, or stop. */
        status = spurless_plan_step(plan, 1000, &progress);
        if (status != SPURLESS_STATUS_OK)
            return failed("step", status);
    } while (progress.stage != SPURLESS_PLAN_STAGE_DONE);

    status = spurless_plan_outcome(plan, &outcome, &spare_use);
    if (status != SPURLESS_STATUS_OK)
        return failed("outcome", status);
    if (outcome != SPURLESS_OUTCOME_COMPLETE) {
        fprintf(stderr, "no plan: %u of %u links placed\n", (unsigned)progress.seated,
                (unsigned)progress.wanted);
        return print_loosenings(plan) ? 1 : 3;
    }

    for (index = 0; index < COUNT(links); index++) {
        status = spurless_plan_carrier(plan, index, &carrier_hz);
        if (status != SPURLESS_STATUS_OK)
            return failed(links[index].label.text, status);
        printf("%s %lu\n", links[index].label.text, (unsigned long)carrier_hz);

        status = spurless_plan_spares(plan, index, spares_hz, COUNT(spares_hz), &count);
        if (status != SPURLESS_STATUS_OK)
            return failed("spares", status);
        for (spare = 0; spare < count; spare++)
            printf("spare %s %lu\n", links[index].label.text, (unsigned long)spares_hz[spare]);
    }

    /* Looked at once more, by nothing that the search uses. */
    status = spurless_plan_certificate(plan, &certificate);
    if (status != SPURLESS_STATUS_OK)
        return failed("certificate", status);
    printf("hits %lu breaches %lu barred %lu\n", (unsigned long)certificate.hits,
           (unsigned long)certificate.breaches, (unsigned long)certificate.barred);
    fprintf(stderr, "Before you switch on: licence and local rules, and listen on every carrier.\n");
    return 0;
}
