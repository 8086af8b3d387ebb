/*
 * Everything that a C program can get wrong and that can be noticed: each gets its status, and no
 * output is touched. Prints the calls that answer something else; exits with 1 if there were any.
 */
#include "spurless.h"

#include <stdio.h>
#include <string.h>

static int failures = 0;

static void expect(int32_t wanted, int32_t found, const char *call, int line)
{
    if (wanted != found) {
        printf("line %d: %s\n  wanted: %s\n  found:  %s\n", line, call, spurless_status_text(wanted),
               spurless_status_text(found));
        failures++;
    }
}

static void hold(int truth, const char *what, int line)
{
    if (!truth) {
        printf("line %d: not so: %s\n", line, what);
        failures++;
    }
}

#define EXPECT(status, call) expect(SPURLESS_STATUS_##status, (call), #call, __LINE__)
#define HOLD(truth) hold((truth), #truth, __LINE__)

#define HUGE_COUNT ((size_t)-1 / 2)
#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static uint64_t memory[16384];
static uint64_t elsewhere[16384];

/* An address inside the object, one byte off any alignment. */
static void *crooked(void *object)
{
    return (unsigned char *)object + 1;
}

static void frequencies(void)
{
    uint32_t hz = 7;
    char text[24];
    size_t length = 7;
    static const char broken[] = { '6', (char)0xFF };

    EXPECT(OK, spurless_frequency_read("606,5", 5, SPURLESS_UNIT_MEGAHERTZ, &hz));
    HOLD(hz == 606500000);
    EXPECT(NULL_POINTER, spurless_frequency_read(NULL, 5, SPURLESS_UNIT_MEGAHERTZ, &hz));
    EXPECT(NULL_POINTER, spurless_frequency_read("606", 3, SPURLESS_UNIT_MEGAHERTZ, NULL));
    EXPECT(MISALIGNED, spurless_frequency_read("606", 3, 2, (uint32_t *)crooked(memory)));
    EXPECT(TOO_LONG, spurless_frequency_read("606", (size_t)-1, SPURLESS_UNIT_MEGAHERTZ, &hz));
    memset(memory, '6', 8);
    EXPECT(OVERLAP, spurless_frequency_read((char *)memory, 3, SPURLESS_UNIT_MEGAHERTZ, (uint32_t *)(void *)memory));
    EXPECT(EMPTY, spurless_frequency_read(NULL, 0, SPURLESS_UNIT_MEGAHERTZ, &hz));
    EXPECT(EMPTY, spurless_frequency_read("  ", 2, SPURLESS_UNIT_MEGAHERTZ, &hz));
    EXPECT(NOT_UTF8, spurless_frequency_read(broken, 2, SPURLESS_UNIT_MEGAHERTZ, &hz));
    EXPECT(NOT_A_NUMBER, spurless_frequency_read("6-6", 3, SPURLESS_UNIT_MEGAHERTZ, &hz));
    EXPECT(UNKNOWN_UNIT, spurless_frequency_read("606 V", 5, SPURLESS_UNIT_MEGAHERTZ, &hz));
    EXPECT(UNKNOWN_VALUE, spurless_frequency_read("606", 3, 4, &hz));
    EXPECT(UNKNOWN_VALUE, spurless_frequency_read("606", 3, -1, &hz));
    EXPECT(TOO_FINE, spurless_frequency_read("606.0000001", 11, SPURLESS_UNIT_MEGAHERTZ, &hz));
    EXPECT(OUT_OF_RANGE, spurless_frequency_read("4295", 4, SPURLESS_UNIT_MEGAHERTZ, &hz));
    EXPECT(OUT_OF_RANGE, spurless_frequency_read("-1", 2, SPURLESS_UNIT_MEGAHERTZ, &hz));
    HOLD(hz == 606500000);

    memset(text, 'x', sizeof text);
    EXPECT(NULL_POINTER, spurless_frequency_write(606500000, NULL, 24, &length));
    EXPECT(NULL_POINTER, spurless_frequency_write(606500000, text, 24, NULL));
    EXPECT(OVERLAP, spurless_frequency_write(606500000, (char *)&length, sizeof length, &length));
    HOLD(length == 7 && text[0] == 'x');
    EXPECT(OUTPUT_TOO_SHORT, spurless_frequency_write(606500000, text, 11, &length));
    HOLD(length == 11 && text[0] == 'x');
    EXPECT(OUTPUT_TOO_SHORT, spurless_frequency_write(606500000, NULL, 0, &length));
    EXPECT(OK, spurless_frequency_write(606500000, text, 12, &length));
    HOLD(length == 11 && strcmp(text, "606.500 MHz") == 0 && text[12] == 'x');
}

static void rasters(void)
{
    spurless_window window = { 522000000, 564000000, 25000 };
    spurless_window stepless = { 522000000, 564000000, 0 };
    spurless_window backwards = { 564000000, 522000000, 25000 };
    spurless_window fine = { 0, 4294967295u, 1 };
    spurless_window common = { 1, 2, 3 };
    spurless_nearest nearest;
    uint32_t number = 7;

    EXPECT(NULL_POINTER, spurless_raster_at(NULL, 0, &number));
    EXPECT(NULL_POINTER, spurless_raster_at(&window, 0, NULL));
    EXPECT(MISALIGNED, spurless_raster_at((spurless_window *)crooked(memory), 0, &number));
    EXPECT(NO_STEP, spurless_raster_at(&stepless, 0, &number));
    EXPECT(BACKWARDS, spurless_raster_count(&backwards, &number));
    EXPECT(TOO_MANY_STEPS, spurless_raster_count(&fine, &number));
    EXPECT(NOT_THERE, spurless_raster_at(&window, 1681, &number));
    EXPECT(NOT_THERE, spurless_raster_at(&window, 4294967295u, &number));
    EXPECT(NOT_THERE, spurless_raster_place(&window, 522000001, &number));
    EXPECT(NULL_POINTER, spurless_raster_nearest(&window, 1, NULL));
    HOLD(number == 7);
    EXPECT(OK, spurless_raster_count(&window, &number));
    HOLD(number == 1681);
    EXPECT(OK, spurless_raster_at(&window, 880, &number));
    HOLD(number == 544000000);
    EXPECT(OK, spurless_raster_place(&window, 544000000, &number));
    HOLD(number == 880);
    EXPECT(OK, spurless_raster_nearest(&window, 544012501, &nearest));
    HOLD(nearest.carrier_hz == 544025000 && nearest.miss_hz == -12499 && nearest.place == 881);
    EXPECT(NULL_POINTER, spurless_raster_meet(&window, NULL, &common));
    EXPECT(NO_STEP, spurless_raster_meet(&window, &stepless, &common));
    HOLD(common.low_hz == 1);
    /* An output may stand in an input's place. */
    EXPECT(OK, spurless_raster_meet(&window, &window, &window));
    HOLD(window.low_hz == 522000000 && window.high_hz == 564000000 && window.step_hz == 25000);
    common.low_hz = 522000001;
    common.high_hz = 564000000;
    common.step_hz = 25000;
    EXPECT(NOT_THERE, spurless_raster_meet(&window, &common, &window));
}

static void checks(void)
{
    spurless_carrier carriers[3] = { { 544000000, 0 }, { 544800000, 0 }, { 545600000, 0 } };
    spurless_carrier nobody[1] = { { 544000000, 3 } };
    spurless_guards guards = { 75000, 25000, SPURLESS_GUARD_OFF, SPURLESS_GUARD_OFF, SPURLESS_GUARD_OFF };
    spurless_check *check = NULL;
    spurless_check **inside = (spurless_check **)(void *)(memory + 2);
    spurless_hit hit;
    spurless_breach breaches[3];
    spurless_certificate certificate;
    char text[80];
    size_t bytes = 7, written = 7, length = 7;

    EXPECT(NULL_POINTER, spurless_check_memory(3, NULL));
    EXPECT(TOO_MANY_CARRIERS, spurless_check_memory(32768, &bytes));
    EXPECT(TOO_MANY_CARRIERS, spurless_check_memory((size_t)-1, &bytes));
    HOLD(bytes == 7);
    EXPECT(OK, spurless_check_memory(3, &bytes));

    EXPECT(NULL_POINTER, spurless_check_start(NULL, sizeof memory, carriers, 3, &guards, &check));
    EXPECT(NULL_POINTER, spurless_check_start(NULL, 0, carriers, 3, &guards, &check));
    EXPECT(NULL_POINTER, spurless_check_start(memory, sizeof memory, NULL, 3, &guards, &check));
    EXPECT(NULL_POINTER, spurless_check_start(memory, sizeof memory, carriers, 3, NULL, &check));
    EXPECT(NULL_POINTER, spurless_check_start(memory, sizeof memory, carriers, 3, &guards, NULL));
    EXPECT(MISALIGNED, spurless_check_start(crooked(memory), 8000, carriers, 3, &guards, &check));
    EXPECT(MISALIGNED, spurless_check_start(memory, sizeof memory, (spurless_carrier *)crooked(carriers), 2, &guards, &check));
    EXPECT(TOO_LONG, spurless_check_start(memory, (size_t)-1, carriers, 3, &guards, &check));
    EXPECT(TOO_LONG, spurless_check_start(memory, sizeof memory, carriers, HUGE_COUNT, &guards, &check));
    EXPECT(MEMORY_TOO_SHORT, spurless_check_start(memory, bytes - 1, carriers, 3, &guards, &check));
    EXPECT(MEMORY_TOO_SHORT, spurless_check_start(memory, 0, carriers, 3, &guards, &check));
    EXPECT(MEMORY_TOO_SHORT, spurless_check_start(memory, 8, carriers, 3, &guards, &check));
    EXPECT(OVERLAP, spurless_check_start(memory, sizeof memory, (spurless_carrier *)(void *)memory, 3, &guards, &check));
    EXPECT(OVERLAP, spurless_check_start(memory, sizeof memory, carriers, 3, &guards, inside));
    EXPECT(OVERLAP, spurless_check_start(memory, sizeof memory, (spurless_carrier *)(void *)elsewhere, 3, &guards, (spurless_check **)(void *)elsewhere));
    EXPECT(UNKNOWN_VALUE, spurless_check_start(memory, sizeof memory, nobody, 1, &guards, &check));
    HOLD(check == NULL);

    EXPECT(NULL_POINTER, spurless_check_next(NULL, &hit));
    memset(memory, 0, sizeof memory);
    EXPECT(NOT_STARTED, spurless_check_next((spurless_check *)(void *)memory, &hit));
    memset(memory, 0xA5, sizeof memory);
    EXPECT(NOT_STARTED, spurless_check_next((spurless_check *)(void *)memory, &hit));
    EXPECT(MISALIGNED, spurless_check_next((spurless_check *)crooked(memory), &hit));

    EXPECT(OK, spurless_check_start(memory, bytes, carriers, 3, &guards, &check));
    EXPECT(NOT_THERE, spurless_check_sum(check, text, sizeof text, &length));
    EXPECT(NULL_POINTER, spurless_check_next(check, NULL));
    EXPECT(OVERLAP, spurless_check_next(check, (spurless_hit *)(void *)check));
    EXPECT(OVERLAP, spurless_check_next(check, (spurless_hit *)(void *)((unsigned char *)memory + bytes - 8)));
    EXPECT(OK, spurless_check_next(check, &hit));
    EXPECT(OUTPUT_TOO_SHORT, spurless_check_sum(check, text, 5, &length));
    EXPECT(OVERLAP, spurless_check_sum(check, (char *)memory, 5, &length));
    EXPECT(OK, spurless_check_next(check, &hit));
    EXPECT(END, spurless_check_next(check, &hit));
    EXPECT(END, spurless_check_next(check, &hit));

    EXPECT(OUTPUT_TOO_SHORT, spurless_check_breaches(check, 1000000, breaches, 1, &written));
    HOLD(written == 2);
    EXPECT(OUTPUT_TOO_SHORT, spurless_check_breaches(check, 1000000, NULL, 0, &written));
    EXPECT(NULL_POINTER, spurless_check_breaches(check, 1000000, NULL, 3, &written));
    EXPECT(NULL_POINTER, spurless_check_breaches(check, 1000000, breaches, 3, NULL));
    EXPECT(TOO_LONG, spurless_check_breaches(check, 1000000, breaches, HUGE_COUNT, &written));
    EXPECT(OVERLAP, spurless_check_breaches(check, 1000000, (spurless_breach *)(void *)check, 1, &written));
    EXPECT(OK, spurless_check_breaches(check, 1000000, breaches, 3, &written));
    HOLD(written == 2 && breaches[0].a == 0 && breaches[0].b == 1 && breaches[0].distance_hz == 800000);
    EXPECT(OVERLAP, spurless_check_verify(check, 1, (spurless_certificate *)(void *)check));
    EXPECT(OK, spurless_check_verify(check, 400000, &certificate));
    HOLD(certificate.hits == 2 && certificate.breaches == 0);

    /* Moved: it is full of pointers into itself. */
    memcpy(elsewhere, memory, sizeof memory);
    EXPECT(NOT_STARTED, spurless_check_next((spurless_check *)(void *)elsewhere, &hit));
    /* Another kind of state. */
    EXPECT(NOT_STARTED, spurless_survey_forget((spurless_survey *)(void *)check));
    /* A failed start leaves nothing behind. */
    EXPECT(UNKNOWN_VALUE, spurless_check_start(memory, bytes, nobody, 1, &guards, &check));
    EXPECT(NOT_STARTED, spurless_check_next(check, &hit));
    /* Nobody at all is no mistake. */
    EXPECT(OK, spurless_check_start(memory, sizeof memory, NULL, 0, &guards, &check));
    EXPECT(END, spurless_check_next(check, &hit));
}

static void surveys(void)
{
    spurless_window window = { 606000000, 608000000, 25000 };
    spurless_window stepless = { 606000000, 608000000, 0 };
    spurless_survey *survey = NULL;
    spurless_verdict verdict;
    size_t bytes = 7;
    int32_t level = 7;

    EXPECT(NULL_POINTER, spurless_survey_memory(NULL, &bytes));
    EXPECT(NO_STEP, spurless_survey_memory(&stepless, &bytes));
    EXPECT(OK, spurless_survey_memory(&window, &bytes));
    HOLD(SPURLESS_SURVEY_MEMORY(81) >= bytes);
    EXPECT(MEMORY_TOO_SHORT, spurless_survey_start(memory, bytes - 1, &window, &survey));
    EXPECT(NULL_POINTER, spurless_survey_start(NULL, bytes, &window, &survey));
    EXPECT(MISALIGNED, spurless_survey_start(crooked(memory), 8000, &window, &survey));
    EXPECT(OVERLAP, spurless_survey_start(memory, bytes, &window, (spurless_survey **)(void *)(memory + 3)));
    EXPECT(OK, spurless_survey_start(memory, bytes, &window, &survey));
    EXPECT(NOT_THERE, spurless_survey_floor(survey, &level));
    HOLD(level == 7);
    EXPECT(OK, spurless_survey_verdict(survey, 606500000, 200000, 1000, &verdict));
    HOLD(verdict.heard == SPURLESS_HEARD_UNHEARD);
    EXPECT(BACKWARDS, spurless_survey_add(survey, 606500000, 606500000, -10600));
    EXPECT(OUT_OF_RANGE, spurless_survey_add(survey, 606000000, 608000000, -32768));
    EXPECT(OUT_OF_RANGE, spurless_survey_add(survey, 606000000, 608000000, INT32_MAX));
    EXPECT(OK, spurless_survey_add(survey, 0, 4294967295u, -10600));
    EXPECT(OK, spurless_survey_verdict(survey, 606500000, 200000, 1000, &verdict));
    HOLD(verdict.heard == SPURLESS_HEARD_QUIET);
    EXPECT(OUT_OF_RANGE, spurless_survey_verdict(survey, 606500000, 200000, INT32_MIN, &verdict));
    EXPECT(OK, spurless_survey_verdict(survey, 4294967295u, 4294967295u, 1000, &verdict));
    HOLD(verdict.heard == SPURLESS_HEARD_UNHEARD);
    EXPECT(OK, spurless_survey_floor(survey, &level));
    HOLD(level == -10600);
    EXPECT(OVERLAP, spurless_survey_floor(survey, (int32_t *)(void *)memory));
    EXPECT(OK, spurless_survey_forget(survey));
    EXPECT(NOT_THERE, spurless_survey_floor(survey, &level));
}

static spurless_link link_of(const spurless_window *windows, size_t count)
{
    spurless_link made;
    made.label.text = "one";
    made.label.length = 3;
    made.windows = windows;
    made.window_count = count;
    made.bandwidth_hz = 200000;
    made.present_hz = 0;
    made.is_held = 0;
    made.spares = 1;
    return made;
}

static void finish(spurless_plan *plan)
{
    spurless_progress progress;
    int32_t status;

    do {
        status = spurless_plan_step(plan, 1000, &progress);
        EXPECT(OK, status);
    } while (status == SPURLESS_STATUS_OK && progress.stage != SPURLESS_PLAN_STAGE_DONE);
}

static void plans(void)
{
    static const char broken[] = { (char)0xC3 };
    spurless_window windows[5] = { { 606000000, 608000000, 25000 }, { 610000000, 612000000, 25000 },
                                   { 614000000, 616000000, 25000 }, { 618000000, 620000000, 25000 },
                                   { 622000000, 624000000, 25000 } };
    spurless_link links[2];
    spurless_foreign foreign[1];
    spurless_stretch stretches[1];
    spurless_problem problem, sound;
    spurless_fault fault;
    spurless_plan *plan = NULL;
    spurless_survey *survey = NULL;
    spurless_progress progress;
    spurless_proof proof;
    spurless_certificate certificate;
    uint32_t carrier_hz = 7, spares_hz[2] = { 7, 7 };
    size_t bytes = 7, written = 7, length = 7;
    int32_t outcome = 7, spare_use = 7, worth = 7;
    char text[120];

    links[0] = link_of(windows, 1);
    links[1] = link_of(windows, 1);
    memset(&sound, 0, sizeof sound);
    sound.links = links;
    sound.link_count = COUNT(links);
    sound.spacing_hz = 400000;
    sound.margin_hundredths_db = 1000;
    sound.guards.two_transmitter_3_hz = 99999;
    sound.guards.three_transmitter_3_hz = 49999;
    sound.guards.two_transmitter_5_hz = SPURLESS_GUARD_OFF;
    sound.guards.three_transmitter_5_hz = SPURLESS_GUARD_OFF;
    sound.guards.two_transmitter_7_hz = SPURLESS_GUARD_OFF;
    foreign[0].label = links[0].label;
    foreign[0].carrier_hz = 607000000;
    foreign[0].is_protected = 1;
    stretches[0].low_hz = 606000000;
    stretches[0].high_hz = 606500000;
    stretches[0].why = links[0].label;

#define START(memory, bytes) spurless_plan_start((memory), (bytes), &problem, SPURLESS_PLAN_BUDGET, &plan)

    problem = sound;
    EXPECT(NULL_POINTER, spurless_plan_memory(NULL, &bytes));
    EXPECT(NULL_POINTER, spurless_plan_memory(&problem, NULL));
    EXPECT(OK, spurless_plan_memory(&problem, &bytes));
    EXPECT(NULL_POINTER, START(NULL, sizeof memory));
    EXPECT(MISALIGNED, START(crooked(memory), sizeof memory - 8));
    EXPECT(TOO_LONG, START(memory, (size_t)-8));
    EXPECT(MEMORY_TOO_SHORT, START(memory, bytes - 1));
    EXPECT(MEMORY_TOO_SHORT, START(memory, 0));
    EXPECT(NULL_POINTER, spurless_plan_start(memory, sizeof memory, NULL, 1, &plan));
    EXPECT(NULL_POINTER, spurless_plan_start(memory, sizeof memory, &problem, 1, NULL));
    EXPECT(OVERLAP, spurless_plan_start(memory, sizeof memory, &problem, 1, (spurless_plan **)(void *)memory));

    EXPECT(OVERLAP, spurless_plan_start(memory, sizeof memory, &problem, 1, (spurless_plan **)(void *)links));
    problem.links = NULL;
    EXPECT(NULL_POINTER, START(memory, sizeof memory));
    problem.links = (spurless_link *)crooked(links);
    EXPECT(MISALIGNED, START(memory, sizeof memory));
    problem.links = links;
    problem.link_count = HUGE_COUNT;
    EXPECT(TOO_LONG, START(memory, sizeof memory));
    problem = sound;
    problem.foreign_count = 1;
    EXPECT(NULL_POINTER, START(memory, sizeof memory));
    problem = sound;
    problem.permit_count = 1;
    EXPECT(NULL_POINTER, START(memory, sizeof memory));
    problem = sound;
    problem.blocked = stretches;
    problem.blocked_count = HUGE_COUNT;
    EXPECT(TOO_LONG, START(memory, sizeof memory));
    problem = sound;
    problem.links = (spurless_link *)(void *)memory;
    memcpy(memory, links, sizeof links);
    EXPECT(OVERLAP, START(memory, sizeof memory));
    problem = sound;
    problem.unheard = 2;
    EXPECT(UNKNOWN_VALUE, START(memory, sizeof memory));

    problem = sound;
    links[1].is_held = 1;
    EXPECT(HELD_NOWHERE, START(memory, sizeof memory));
    links[1].is_held = 2;
    EXPECT(UNKNOWN_VALUE, START(memory, sizeof memory));
    links[1] = link_of(windows, 5);
    EXPECT(TOO_MANY_WINDOWS, START(memory, sizeof memory));
    EXPECT(TOO_MANY_WINDOWS, spurless_plan_memory(&problem, &written));
    links[1] = link_of(windows, (size_t)-1);
    EXPECT(TOO_MANY_WINDOWS, START(memory, sizeof memory));
    links[1] = link_of(NULL, 1);
    EXPECT(NULL_POINTER, START(memory, sizeof memory));
    links[1] = link_of((spurless_window *)crooked(windows), 1);
    EXPECT(MISALIGNED, START(memory, sizeof memory));
    links[1] = link_of((spurless_window *)(void *)(memory + 100), 1);
    memcpy(memory + 100, windows, sizeof windows[0]);
    EXPECT(OVERLAP, START(memory, sizeof memory));
    links[1] = link_of(windows, 1);
    windows[0].step_hz = 0;
    EXPECT(NO_STEP, START(memory, sizeof memory));
    windows[0].step_hz = 25000;
    links[1].label.text = broken;
    links[1].label.length = 1;
    EXPECT(NOT_UTF8, START(memory, sizeof memory));
    links[1].label.text = NULL;
    EXPECT(NULL_POINTER, START(memory, sizeof memory));
    links[1].label.text = (const char *)memory;
    memset(memory, 'x', 8);
    EXPECT(OVERLAP, START(memory, sizeof memory));
    links[1] = link_of(windows, 1);

    problem.foreign = foreign;
    problem.foreign_count = 1;
    EXPECT(OK, spurless_plan_examine(&problem, &fault));
    HOLD(fault.status == SPURLESS_STATUS_OK && fault.part == SPURLESS_PROBLEM_PART_ITSELF);
    foreign[0].is_protected = 9;
    EXPECT(UNKNOWN_VALUE, START(memory, sizeof memory));
    EXPECT(OK, spurless_plan_examine(&problem, &fault));
    HOLD(fault.status == SPURLESS_STATUS_UNKNOWN_VALUE && fault.part == SPURLESS_PROBLEM_PART_FOREIGN);
    links[1].window_count = 5;
    EXPECT(OK, spurless_plan_examine(&problem, &fault));
    HOLD(fault.status == SPURLESS_STATUS_TOO_MANY_WINDOWS && fault.part == SPURLESS_PROBLEM_PART_LINKS);
    HOLD(fault.index == 1);
    links[1].window_count = 1;
    EXPECT(NULL_POINTER, spurless_plan_examine(NULL, &fault));
    EXPECT(NULL_POINTER, spurless_plan_examine(&problem, NULL));
    foreign[0].is_protected = 1;
    problem.blocked = stretches;
    problem.blocked_count = 1;
    stretches[0].high_hz = 605000000;
    EXPECT(BACKWARDS, START(memory, sizeof memory));
    stretches[0].high_hz = 606500000;
    problem.foreign_count = 32768;
    EXPECT(TOO_MANY_CARRIERS, START(memory, sizeof memory));
    problem.foreign_count = 1;
    problem.survey = (spurless_survey *)(void *)elsewhere;
    memset(elsewhere, 0, sizeof elsewhere);
    EXPECT(NOT_STARTED, START(memory, sizeof memory));
    problem.survey = (spurless_survey *)crooked(elsewhere);
    EXPECT(MISALIGNED, START(memory, sizeof memory));
    HOLD(plan == NULL);
    EXPECT(NOT_STARTED, spurless_plan_step((spurless_plan *)(void *)memory, 1, &progress));
    EXPECT(NULL_POINTER, spurless_plan_step(NULL, 1, &progress));

    problem.survey = NULL;
    EXPECT(OK, START(memory, sizeof memory));
    EXPECT(NULL_POINTER, spurless_plan_step(plan, 1, NULL));
    EXPECT(OVERLAP, spurless_plan_step(plan, 1, (spurless_progress *)(void *)(memory + 500)));
    EXPECT(OK, spurless_plan_step(plan, 0, &progress));
    EXPECT(NOT_DONE, spurless_plan_spares(plan, 0, spares_hz, 2, &written));
    EXPECT(NOT_DONE, spurless_plan_certificate(plan, &certificate));
    EXPECT(NOT_DONE, spurless_plan_loosening(plan, 0, &worth, text, sizeof text, &length));
    finish(plan);
    EXPECT(NOT_THERE, spurless_plan_carrier(plan, 2, &carrier_hz));
    EXPECT(NOT_THERE, spurless_plan_carrier(plan, (size_t)-1, &carrier_hz));
    EXPECT(NULL_POINTER, spurless_plan_carrier(plan, 0, NULL));
    EXPECT(MISALIGNED, spurless_plan_carrier(plan, 0, (uint32_t *)crooked(spares_hz)));
    EXPECT(OVERLAP, spurless_plan_carrier(plan, 0, (uint32_t *)(void *)memory));
    EXPECT(OUTPUT_TOO_SHORT, spurless_plan_spares(plan, 0, NULL, 0, &written));
    HOLD(written == 1 && spares_hz[0] == 7 && carrier_hz == 7);
    EXPECT(OK, spurless_plan_spares(plan, 0, spares_hz, 1, &written));
    HOLD(spares_hz[0] != 7 && spares_hz[1] == 7);
    EXPECT(OVERLAP, spurless_plan_certificate(plan, (spurless_certificate *)(void *)memory));
    EXPECT(OVERLAP, spurless_plan_outcome(plan, &outcome, &outcome));
    EXPECT(NULL_POINTER, spurless_plan_outcome(plan, &outcome, NULL));
    HOLD(outcome == 7 && spare_use == 7);
    EXPECT(OK, spurless_plan_outcome(plan, &outcome, &spare_use));
    HOLD(outcome == SPURLESS_OUTCOME_COMPLETE);
    EXPECT(NOT_THERE, spurless_plan_proof(plan, &proof));
    EXPECT(NOT_THERE, spurless_plan_loosening(plan, 0, &worth, text, sizeof text, &length));
    HOLD(worth == 7 && length == 7);

    /* No room: proved, and what would help is told; labels must not be written over. */
    windows[0].high_hz = 606000000;
    EXPECT(OK, START(memory, sizeof memory));
    finish(plan);
    EXPECT(OK, spurless_plan_outcome(plan, &outcome, &spare_use));
    HOLD(outcome == SPURLESS_OUTCOME_INFEASIBLE);
    EXPECT(OK, spurless_plan_proof(plan, &proof));
    HOLD(proof.kind == SPURLESS_PROOF_KIND_NO_CARRIER && proof.link == 0);
    EXPECT(NOT_THERE, spurless_plan_carrier(plan, 0, &carrier_hz));
    EXPECT(OUTPUT_TOO_SHORT, spurless_plan_loosening(plan, 0, &worth, text, 3, &length));
    HOLD(worth == 7 && length > 3);
    EXPECT(OK, spurless_plan_loosening(plan, 0, &worth, text, length + 1, &length));
    HOLD(worth == SPURLESS_LOOSENING_WORTH_USELESS && strlen(text) == length);

    /* A survey that changes under a plan. */
    windows[0].high_hz = 608000000;
    EXPECT(OK, spurless_survey_start(elsewhere, sizeof elsewhere, windows, &survey));
    EXPECT(OK, spurless_survey_add(survey, 605000000, 609000000, -10600));
    problem.survey = survey;
    EXPECT(OK, START(memory, sizeof memory));
    EXPECT(OK, spurless_plan_step(plan, 1, &progress));
    EXPECT(OK, spurless_survey_add(survey, 607000000, 607100000, -6000));
    EXPECT(SURVEY_CHANGED, spurless_plan_step(plan, 1, &progress));
    EXPECT(SURVEY_CHANGED, spurless_plan_carrier(plan, 0, &carrier_hz));
    /* The survey's own memory is no room for a plan. */
    EXPECT(OVERLAP, START(elsewhere, sizeof elsewhere));
}

int main(void)
{
    int32_t status;

    HOLD(spurless_abi() == SPURLESS_ABI);
    for (status = -1; status < 70; status++)
        HOLD(spurless_status_text(status) != NULL && spurless_status_text(status)[0] != 0);
    frequencies();
    rasters();
    checks();
    surveys();
    plans();
    return failures == 0 ? 0 : 1;
}
