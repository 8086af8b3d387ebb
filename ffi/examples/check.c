/*
 * The trap of even spacing: 544.000 and 544.800 MHz are clean, and the obvious next, 545.600, is
 * empty on the air. Prints what lands on what, then the worst cases. Invented values.
 *
 * New here: spurless_frequency_read, spurless_check_start, _next, _sum, _breaches, _verify.
 *
 * Give other carriers, in MHz, as arguments; one with a minus before it is somebody else's that is
 * to be kept clear.
 */
#include "spurless.h"

#include <stdio.h>
#include <string.h>

#define MOST 32
static uint64_t memory[SPURLESS_CHECK_MEMORY(MOST) / 8];

static int failed(const char *what, int32_t status)
{
    fprintf(stderr, "%s: %s\n", what, spurless_status_text(status));
    return 1;
}

int main(int argc, char **argv)
{
    static char trap[3][8] = { "544.000", "544.800", "545.600" };
    char *demo[3];
    char **words = argv + 1;
    size_t count = argc > 1 ? (size_t)argc - 1 : 0;
    spurless_carrier carriers[MOST];
    spurless_breach breaches[MOST];
    spurless_guards guards;
    spurless_check *check;
    spurless_hit hit;
    spurless_certificate certificate;
    char sum[80];
    size_t index, length, written;
    int32_t status;

    if (count == 0) {
        for (index = 0; index < 3; index++)
            demo[index] = trap[index];
        words = demo;
        count = 3;
    }
    if (count > MOST)
        return failed("carriers", SPURLESS_STATUS_TOO_MANY_CARRIERS);
    for (index = 0; index < count; index++) {
        const char *text = words[index];
        int ours = text[0] != '-';

        text += ours ? 0 : 1;
        carriers[index].role = ours ? SPURLESS_CARRIER_ROLE_OWN : SPURLESS_CARRIER_ROLE_PROTECTED;
        status = spurless_frequency_read(text, strlen(text), SPURLESS_UNIT_MEGAHERTZ,
                                         &carriers[index].carrier_hz);
        if (status != SPURLESS_STATUS_OK)
            return failed(words[index], status);
    }
    guards.two_transmitter_3_hz = 75000;
    guards.three_transmitter_3_hz = 25000;
    guards.two_transmitter_5_hz = SPURLESS_GUARD_OFF;
    guards.three_transmitter_5_hz = SPURLESS_GUARD_OFF;
    guards.two_transmitter_7_hz = SPURLESS_GUARD_OFF;

    status = spurless_check_start(memory, sizeof memory, carriers, count, &guards, &check);
    if (status != SPURLESS_STATUS_OK)
        return failed("start", status);
    while ((status = spurless_check_next(check, &hit)) == SPURLESS_STATUS_OK) {
        status = spurless_check_sum(check, sum, sizeof sum, &length);
        if (status != SPURLESS_STATUS_OK)
            return failed("sum", status);
        printf("hit %s on %lu, %ld Hz off\n", sum,
               (unsigned long)carriers[hit.victim].carrier_hz, (long)hit.miss_hz);
    }
    if (status != SPURLESS_STATUS_END)
        return failed("next", status);

    status = spurless_check_breaches(check, 400000, breaches, MOST, &written);
    if (status != SPURLESS_STATUS_OK)
        return failed("breaches", status);
    for (index = 0; index < written; index++)
        printf("too close %lu %lu\n", (unsigned long)carriers[breaches[index].a].carrier_hz,
               (unsigned long)carriers[breaches[index].b].carrier_hz);

    status = spurless_check_verify(check, 400000, &certificate);
    if (status != SPURLESS_STATUS_OK)
        return failed("verify", status);
    printf("hits %lu breaches %lu\n", (unsigned long)certificate.hits,
           (unsigned long)certificate.breaches);
    return 0;
}
