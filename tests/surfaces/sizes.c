/*
 * Memory told three times: the macro holds at least what the function asks for, that much is
 * enough, and eight bytes fewer are refused. Prints a line for each problem, "links spares windows
 * foreign stretches bytes", so that another program may compare.
 */
#include "spurless.h"

#include <stdio.h>
#include <string.h>

#define MOST 16
static uint64_t memory[SPURLESS_PLAN_MEMORY(MOST * 4, 4 * 1681, 4, MOST, 2 * MOST) / 8];
static int failures = 0;

static void hold(int truth, const char *what, size_t links, size_t others)
{
    if (!truth) {
        printf("%lu links, %lu others: not so: %s\n", (unsigned long)links, (unsigned long)others, what);
        failures++;
    }
}

static void plan(size_t link_count, uint8_t spares, size_t windows_used, size_t others)
{
    static const spurless_window windows[4] = { { 522000000, 564000000, 25000 },
                                                { 606000000, 608000000, 25000 },
                                                { 548100000, 572100000, 200000 },
                                                { 534125000, 557875000, 125000 } };
    static const uint32_t carriers[4] = { 1681, 81, 121, 191 };
    spurless_link links[MOST];
    spurless_foreign foreign[MOST];
    spurless_stretch stretches[MOST];
    spurless_problem problem;
    spurless_plan *started;
    size_t bytes = 0, most, index, steps = 0;

    memset(&problem, 0, sizeof problem);
    memset(links, 0, sizeof links);
    memset(foreign, 0, sizeof foreign);
    memset(stretches, 0, sizeof stretches);
    for (index = 0; index < link_count; index++) {
        links[index].windows = &windows[index % windows_used];
        links[index].window_count = 1;
        links[index].spares = spares;
        steps += index < windows_used ? carriers[index] : 0;
    }
    problem.links = links;
    problem.link_count = link_count;
    problem.foreign = foreign;
    problem.foreign_count = others;
    problem.permits = stretches;
    problem.permit_count = others;
    problem.blocked = stretches;
    problem.blocked_count = others;
    hold(spurless_plan_memory(&problem, &bytes) == SPURLESS_STATUS_OK, "sized", link_count, others);
    most = SPURLESS_PLAN_MEMORY(link_count * (1 + (size_t)spares), steps, windows_used, others, 2 * others);
    hold(most >= bytes && most % 8 == 0, "the macro holds it", link_count, others);
    hold(spurless_plan_start(memory, bytes - 8, &problem, 1, &started) == SPURLESS_STATUS_MEMORY_TOO_SHORT,
         "fewer are refused", link_count, others);
    hold(spurless_plan_start(memory, bytes, &problem, 1, &started) == SPURLESS_STATUS_OK,
         "so many are enough", link_count, others);
    printf("%lu %u %lu %lu %lu %lu\n", (unsigned long)link_count, (unsigned)spares,
           (unsigned long)windows_used, (unsigned long)others, 2 * (unsigned long)others,
           (unsigned long)bytes);
}

static void check(size_t count)
{
    static spurless_carrier carriers[MOST];
    spurless_guards guards = { 0, 0, 0, 0, 0 };
    spurless_check *started;
    size_t bytes = 0;

    hold(spurless_check_memory(count, &bytes) == SPURLESS_STATUS_OK, "sized", count, 0);
    hold(SPURLESS_CHECK_MEMORY(count) >= bytes, "the macro holds it", count, 0);
    hold(spurless_check_start(memory, bytes - 8, carriers, count, &guards, &started) ==
             SPURLESS_STATUS_MEMORY_TOO_SHORT, "fewer are refused", count, 0);
    hold(spurless_check_start(memory, bytes, carriers, count, &guards, &started) == SPURLESS_STATUS_OK,
         "so many are enough", count, 0);
}

static void survey(uint32_t carriers)
{
    spurless_window window;
    spurless_survey *started;
    size_t bytes = 0;

    window.low_hz = 606000000;
    window.high_hz = 606000000 + (carriers - 1) * 25000;
    window.step_hz = 25000;
    hold(spurless_survey_memory(&window, &bytes) == SPURLESS_STATUS_OK, "sized", carriers, 0);
    hold(SPURLESS_SURVEY_MEMORY(carriers) >= bytes, "the macro holds it", carriers, 0);
    hold(SPURLESS_SURVEY_MEMORY(carriers) % 8 == 0, "the macro is a multiple of 8", carriers, 0);
    hold(spurless_survey_start(memory, bytes - 8, &window, &started) == SPURLESS_STATUS_MEMORY_TOO_SHORT,
         "fewer are refused", carriers, 0);
    hold(spurless_survey_start(memory, bytes, &window, &started) == SPURLESS_STATUS_OK,
         "so many are enough", carriers, 0);
}

int main(void)
{
    static const size_t others[] = { 0, MOST };
    size_t windows, links, index;
    uint8_t spares;

    for (windows = 1; windows <= 4; windows++)
        for (links = windows; links <= MOST; links += 6)
            for (spares = 0; spares <= 3; spares = (uint8_t)(spares + 3))
                for (index = 0; index < sizeof others / sizeof others[0]; index++)
                    plan(links, spares, windows, others[index]);
    for (index = 0; index <= MOST; index++)
        check(index);
    for (index = 1; index <= 1681; index += 40)
        survey((uint32_t)index);
    return failures == 0 ? 0 : 1;
}
