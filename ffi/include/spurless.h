/*
 * Spurless: a carrier for every radio microphone link.
 *
 * How to use it, in the order of a job:
 *   spurless_frequency_*  a frequency from text and back
 *   spurless_raster_*     tuning windows, and what two devices share
 *   spurless_survey_*     what a sweep heard: quiet, busy or unheard
 *   spurless_check_*      which products land on which carriers
 *   spurless_plan_*       a carrier for every link, or the proof that there is none
 *
 * What every function keeps to:
 *   It returns a spurless_status as int32_t, and writes outputs only if that is SPURLESS_STATUS_OK.
 *   The one exception: with SPURLESS_STATUS_OUTPUT_TOO_SHORT the count tells what is needed.
 *   Arguments come in this order: memory or state, inputs, outputs. After an array comes its count.
 *   NULL, misaligned, overlapping, too short and out-of-range arguments get a status.
 *   All memory is the caller's. A state is started in it, and there is nothing to free.
 *   No function keeps anything anywhere else, so different states may be used at the same time;
 *   one state may be used by one thread at a time.
 *
 * Caution: what may be transmitted, where and with what power, is the law of the place.
 * A plan is no permit. Keep off emergency services and aviation. "Unheard" is not "free".
 */

#ifndef SPURLESS_H
#define SPURLESS_H

/* Written by spurless-header from ffi/src. Do not edit: run `tests/run header --write`. */

#include <stdint.h>
#include <stddef.h>

/* A status that nobody looks at is a warning. */
#if defined(__GNUC__) || defined(__clang__)
#define SPURLESS_LOOK_AT_STATUS __attribute__((warn_unused_result))
#else
#define SPURLESS_LOOK_AT_STATUS
#endif

/*
 * Bytes of memory, for static arrays; each is a multiple of 8, so that
 *     static uint64_t memory[SPURLESS_CHECK_MEMORY(12) / 8];
 * is aligned and long enough. The _memory functions tell how many a given problem really needs.
 */

/* For a check of so many carriers. */
#define SPURLESS_CHECK_MEMORY(carriers) \
    ((size_t)SPURLESS_CHECK_BYTES + (size_t)SPURLESS_CHECK_BYTES_CARRIER * (size_t)(carriers))

/* For a survey around so many carriers. */
#define SPURLESS_SURVEY_MEMORY(carriers) \
    ((size_t)SPURLESS_SURVEY_BYTES + ((size_t)SPURLESS_SURVEY_BYTES_CELL * ((size_t)(carriers) + (size_t)(carriers) / SPURLESS_SURVEY_CELLS_FLOOR) + 7) / 8 * 8)

/*
 * For a plan of so many links and spares (seats), in groups of links that tune alike, which tune so
 * many carriers (steps), all groups together, beside so many foreign carriers, and with so many
 * permits and blocked stretches.
 */
#define SPURLESS_PLAN_MEMORY(seats, steps, groups, foreign, stretches) \
    ((size_t)SPURLESS_PLAN_BYTES + (size_t)SPURLESS_PLAN_BYTES_SEAT * (size_t)(seats) + \
     (size_t)SPURLESS_PLAN_BYTES_GROUP * (size_t)(groups) + \
     (size_t)SPURLESS_PLAN_BYTES_FOREIGN * (size_t)(foreign) + \
     (size_t)SPURLESS_PLAN_BYTES_STRETCH * (size_t)(stretches) + \
     8 * SPURLESS_PLAN_LEVELS(seats, groups, foreign) * (((size_t)(steps) + 63) / 64 + (size_t)(groups)))

/* Sets of open places that a search keeps: used by SPURLESS_PLAN_MEMORY. */
#define SPURLESS_PLAN_LEVELS(seats, groups, foreign) \
    ((groups) <= 1 && (foreign) == 0 ? 2 * (size_t)(seats) + 1 \
     : (seats) >= 12 && (seats) < 16 ? (size_t)17 : (size_t)(seats) + 1)


/*
 As a guard: products of this kind are not looked at.
 */
#define SPURLESS_GUARD_OFF 4294967295

/*
 As a distance: there is none.
 */
#define SPURLESS_NO_DISTANCE -1

/*
 Bytes of a check beside its carriers. For SPURLESS_CHECK_MEMORY.
 */
#define SPURLESS_CHECK_BYTES 640

/*
 Bytes of a check for each carrier. For SPURLESS_CHECK_MEMORY.
 */
#define SPURLESS_CHECK_BYTES_CARRIER 96

/*
 Bytes of a survey beside its cells. For SPURLESS_SURVEY_MEMORY.
 */
#define SPURLESS_SURVEY_BYTES 144

/*
 Bytes of a survey for each cell. For SPURLESS_SURVEY_MEMORY.
 */
#define SPURLESS_SURVEY_BYTES_CELL 8

/*
 Cells that share one more, for their floor, at least. For SPURLESS_SURVEY_MEMORY.
 */
#define SPURLESS_SURVEY_CELLS_FLOOR 20

/*
 Bytes of a plan beside all that follows. For SPURLESS_PLAN_MEMORY.
 */
#define SPURLESS_PLAN_BYTES 1536

/*
 Bytes of a plan for each link and each spare. For SPURLESS_PLAN_MEMORY.
 */
#define SPURLESS_PLAN_BYTES_SEAT 176

/*
 Bytes of a plan for each group of links that tune alike. For SPURLESS_PLAN_MEMORY.
 */
#define SPURLESS_PLAN_BYTES_GROUP 96

/*
 Bytes of a plan for each foreign carrier. For SPURLESS_PLAN_MEMORY.
 */
#define SPURLESS_PLAN_BYTES_FOREIGN 112

/*
 Bytes of a plan for each permit and each blocked stretch. For SPURLESS_PLAN_MEMORY.
 */
#define SPURLESS_PLAN_BYTES_STRETCH 24

/*
 Nodes for spurless_plan_start if nothing speaks for another number.
 */
#define SPURLESS_PLAN_BUDGET 8000000

/*
 The number of the interface that this header describes. It changes when a program that was
 compiled with an older header would misread a structure or misuse a function.
 */
#define SPURLESS_ABI 1

/*
 What a call came to. Every function returns one of these as a plain int32_t.

 1 to 19 are mistakes of the program, 20 to 59 mistakes in what it was given to work on, from 60
 on there is no mistake, only a "no" for an answer.
 */
enum spurless_status
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     Done; the outputs are written.
     */
    SPURLESS_STATUS_OK = 0,
    /*
     A pointer is NULL that must not be.
     */
    SPURLESS_STATUS_NULL_POINTER = 1,
    /*
     A pointer is not aligned for what it points to.
     */
    SPURLESS_STATUS_MISALIGNED = 2,
    /*
     A count is so large that no array can be that long.
     */
    SPURLESS_STATUS_TOO_LONG = 3,
    /*
     An output overlaps an input, another output, or memory in use.
     */
    SPURLESS_STATUS_OVERLAP = 4,
    /*
     The output has too little room. Nothing is written but the count, which says what is needed.
     */
    SPURLESS_STATUS_OUTPUT_TOO_SHORT = 5,
    /*
     The memory has too few bytes; ask the _memory function how many are needed.
     */
    SPURLESS_STATUS_MEMORY_TOO_SHORT = 6,
    /*
     Nothing was started in this memory, or it was moved or overwritten since.
     */
    SPURLESS_STATUS_NOT_STARTED = 7,
    /*
     The survey was changed while a plan is using it. Start the plan anew.
     */
    SPURLESS_STATUS_SURVEY_CHANGED = 8,
    /*
     A number stands for nothing: a role, a unit, a two-way choice that is neither.
     */
    SPURLESS_STATUS_UNKNOWN_VALUE = 20,
    /*
     A text is not UTF-8.
     */
    SPURLESS_STATUS_NOT_UTF8 = 21,
    /*
     A text is empty where a number should be.
     */
    SPURLESS_STATUS_EMPTY = 22,
    /*
     A text is not a number.
     */
    SPURLESS_STATUS_NOT_A_NUMBER = 23,
    /*
     A number is finer than one hertz.
     */
    SPURLESS_STATUS_TOO_FINE = 24,
    /*
     A number is out of range.
     */
    SPURLESS_STATUS_OUT_OF_RANGE = 25,
    /*
     A unit is not known; Hz, kHz, MHz and GHz are.
     */
    SPURLESS_STATUS_UNKNOWN_UNIT = 26,
    /*
     The step of a window is 0.
     */
    SPURLESS_STATUS_NO_STEP = 27,
    /*
     An upper edge lies below its lower edge.
     */
    SPURLESS_STATUS_BACKWARDS = 28,
    /*
     A window holds more than 1048576 carriers. Is its step in hertz?
     */
    SPURLESS_STATUS_TOO_MANY_STEPS = 29,
    /*
     A link has more than four windows.
     */
    SPURLESS_STATUS_TOO_MANY_WINDOWS = 30,
    /*
     More carriers or links than can be worked on at once.
     */
    SPURLESS_STATUS_TOO_MANY_CARRIERS = 31,
    /*
     A link is held where it is, but it is nowhere.
     */
    SPURLESS_STATUS_HELD_NOWHERE = 32,
    /*
     There is no such thing: no carrier there, no common carrier, no entry with this number.
     */
    SPURLESS_STATUS_NOT_THERE = 60,
    /*
     There are no more.
     */
    SPURLESS_STATUS_END = 61,
    /*
     Not known yet: give the plan more nodes until its stage is done.
     */
    SPURLESS_STATUS_NOT_DONE = 62,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_status spurless_status;
#else
typedef int32_t spurless_status;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 Units that a frequency may be written in.
 */
enum spurless_unit
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     Hz.
     */
    SPURLESS_UNIT_HERTZ = 0,
    /*
     kHz.
     */
    SPURLESS_UNIT_KILOHERTZ = 1,
    /*
     MHz.
     */
    SPURLESS_UNIT_MEGAHERTZ = 2,
    /*
     GHz.
     */
    SPURLESS_UNIT_GIGAHERTZ = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_unit spurless_unit;
#else
typedef int32_t spurless_unit;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 Whose a carrier is.
 */
enum spurless_carrier_role
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     Ours: a source, and a victim of everybody's products.
     */
    SPURLESS_CARRIER_ROLE_OWN = 0,
    /*
     Somebody else's that we promised to keep clear: a source, and a victim of products in which
     one of ours takes part.
     */
    SPURLESS_CARRIER_ROLE_PROTECTED = 1,
    /*
     Somebody else's: a source only.
     */
    SPURLESS_CARRIER_ROLE_FOREIGN = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_carrier_role spurless_carrier_role;
#else
typedef int32_t spurless_carrier_role;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 The arithmetic of a product.
 */
enum spurless_product_form
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     2A-B
     */
    SPURLESS_PRODUCT_FORM_TWO_A_MINUS_B = 0,
    /*
     A+B-C
     */
    SPURLESS_PRODUCT_FORM_A_PLUS_B_MINUS_C = 1,
    /*
     3A-2B
     */
    SPURLESS_PRODUCT_FORM_THREE_A_MINUS_TWO_B = 2,
    /*
     2A+B-2C
     */
    SPURLESS_PRODUCT_FORM_TWO_A_PLUS_B_MINUS_TWO_C = 3,
    /*
     3A-B-C
     */
    SPURLESS_PRODUCT_FORM_THREE_A_MINUS_B_MINUS_C = 4,
    /*
     4A-3B
     */
    SPURLESS_PRODUCT_FORM_FOUR_A_MINUS_THREE_B = 5,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_product_form spurless_product_form;
#else
typedef int32_t spurless_product_form;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 What a survey says of a carrier.
 */
enum spurless_heard
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     Part of it was never measured and the rest is quiet: nothing can be said. Not heard is not free.
     */
    SPURLESS_HEARD_UNHEARD = 0,
    /*
     Nothing stands out of the noise.
     */
    SPURLESS_HEARD_QUIET = 1,
    /*
     Somebody is there.
     */
    SPURLESS_HEARD_BUSY = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_heard spurless_heard;
#else
typedef int32_t spurless_heard;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 What is done with spectrum that no sweep has heard. Only matters where there is a survey.
 */
enum spurless_unheard
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     No carrier is put there.
     */
    SPURLESS_UNHEARD_AVOID = 0,
    /*
     A carrier may be put there; nothing is promised.
     */
    SPURLESS_UNHEARD_ALLOW = 1,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_unheard spurless_unheard;
#else
typedef int32_t spurless_unheard;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 Where a plan is.
 */
enum spurless_plan_stage
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     Placing the links.
     */
    SPURLESS_PLAN_STAGE_LINKS = 0,
    /*
     Placing the spares as well.
     */
    SPURLESS_PLAN_STAGE_SPARES = 1,
    /*
     Looking for quieter spectrum.
     */
    SPURLESS_PLAN_STAGE_QUIETER = 2,
    /*
     Looking for more room between the carriers.
     */
    SPURLESS_PLAN_STAGE_ROOMIER = 3,
    /*
     Looking for what could be loosened.
     */
    SPURLESS_PLAN_STAGE_LOOSEN = 4,
    /*
     Nothing left to do.
     */
    SPURLESS_PLAN_STAGE_DONE = 5,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_plan_stage spurless_plan_stage;
#else
typedef int32_t spurless_plan_stage;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 What a plan came to.
 */
enum spurless_outcome
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     Not known yet.
     */
    SPURLESS_OUTCOME_OPEN = 0,
    /*
     Every link has a carrier.
     */
    SPURLESS_OUTCOME_COMPLETE = 1,
    /*
     It cannot be done; spurless_plan_proof says why.
     */
    SPURLESS_OUTCOME_INFEASIBLE = 2,
    /*
     The nodes were spent before an answer; the best that was found seats fewer links.
     */
    SPURLESS_OUTCOME_BUDGET_SPENT = 3,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_outcome spurless_outcome;
#else
typedef int32_t spurless_outcome;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 How the spares of a plan may be used.
 */
enum spurless_spare_use
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     None were asked for.
     */
    SPURLESS_SPARE_USE_NOT_ASKED = 0,
    /*
     All may be live at once: any of them may stand in for any of its links at any time.
     */
    SPURLESS_SPARE_USE_TOGETHER = 1,
    /*
     Each is clear only while the link that it stands in for is off its own carrier, and no other
     spare is in use.
     */
    SPURLESS_SPARE_USE_ONE_AT_A_TIME = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_spare_use spurless_spare_use;
#else
typedef int32_t spurless_spare_use;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 Why a plan cannot exist.
 */
enum spurless_proof_kind
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     Carriers that stand already break the rules among themselves.
     */
    SPURLESS_PROOF_KIND_STANDING_CLASH = 0,
    /*
     No carrier is open to this link before any other is placed.
     */
    SPURLESS_PROOF_KIND_NO_CARRIER = 1,
    /*
     Even if only the spacing counted, the links that tune like this one do not fit.
     */
    SPURLESS_PROOF_KIND_ROOM = 2,
    /*
     Every possibility was tried.
     */
    SPURLESS_PROOF_KIND_EXHAUSTED = 3,
    /*
     The links that tune like this one need more span than is open to them: all gaps between
     neighbours differ.
     */
    SPURLESS_PROOF_KIND_ADJACENT_GAPS = 4,
    /*
     The same, from the sums of the distances over several gaps.
     */
    SPURLESS_PROOF_KIND_GAP_SUM = 5,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_proof_kind spurless_proof_kind;
#else
typedef int32_t spurless_proof_kind;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 The lists that a problem is made of.
 */
enum spurless_problem_part
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     None of them: the problem itself.
     */
    SPURLESS_PROBLEM_PART_ITSELF = 0,
    /*
     Its links.
     */
    SPURLESS_PROBLEM_PART_LINKS = 1,
    /*
     Carriers of others.
     */
    SPURLESS_PROBLEM_PART_FOREIGN = 2,
    /*
     Permits.
     */
    SPURLESS_PROBLEM_PART_PERMITS = 3,
    /*
     Blocked stretches.
     */
    SPURLESS_PROBLEM_PART_BLOCKED = 4,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_problem_part spurless_problem_part;
#else
typedef int32_t spurless_problem_part;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 What a loosening brings.
 */
enum spurless_loosening_worth
#if defined(__cplusplus) || __STDC_VERSION__ >= 202311L
  : int32_t
#endif // defined(__cplusplus) || __STDC_VERSION__ >= 202311L
 {
    /*
     With it, every link has a carrier.
     */
    SPURLESS_LOOSENING_WORTH_WORKS = 0,
    /*
     Even with it, the links do not fit: proved.
     */
    SPURLESS_LOOSENING_WORTH_USELESS = 1,
    /*
     The nodes were spent before an answer.
     */
    SPURLESS_LOOSENING_WORTH_UNDECIDED = 2,
};
#ifndef __cplusplus
#if __STDC_VERSION__ >= 202311L
typedef enum spurless_loosening_worth spurless_loosening_worth;
#else
typedef int32_t spurless_loosening_worth;
#endif // __STDC_VERSION__ >= 202311L
#endif // __cplusplus

/*
 A check at work, in memory of the caller.
 */
typedef struct spurless_check spurless_check;

/*
 A plan at work, in memory of the caller.
 */
typedef struct spurless_plan spurless_plan;

/*
 A survey being gathered, in memory of the caller.
 */
typedef struct spurless_survey spurless_survey;

/*
 A carrier and whose it is.
 */
typedef struct spurless_carrier {
    /*
     Where it is.
     */
    uint32_t carrier_hz;
    /*
     One of spurless_carrier_role.
     */
    int32_t role;
} spurless_carrier;

/*
 How near a product of each kind may come: one within the guard, equal included, is a hit.

 0 is exact coincidence. SPURLESS_GUARD_OFF: the kind is not looked at. Mind that a structure
 full of zeros looks at every kind.
 */
typedef struct spurless_guards {
    /*
     Third order, two transmitters: 2A-B.
     */
    uint32_t two_transmitter_3_hz;
    /*
     Third order, three transmitters: A+B-C.
     */
    uint32_t three_transmitter_3_hz;
    /*
     Fifth order, two transmitters: 3A-2B.
     */
    uint32_t two_transmitter_5_hz;
    /*
     Fifth order, three transmitters: 2A+B-2C and 3A-B-C.
     */
    uint32_t three_transmitter_5_hz;
    /*
     Seventh order, two transmitters: 4A-3B.
     */
    uint32_t two_transmitter_7_hz;
} spurless_guards;

/*
 A product that lands on a carrier. Carriers are counted from 0, in the order they were given.
 */
typedef struct spurless_hit {
    /*
     Where the product lies. It may be negative or above 4.29 GHz.
     */
    int64_t product_hz;
    /*
     How far it lies above the carrier that it lands on; negative: below.
     */
    int64_t miss_hz;
    /*
     One of spurless_product_form.
     */
    int32_t form;
    /*
     A, B and C; C equals B where the form has two sources.
     */
    uint16_t sources[3];
    /*
     The carrier that it lands on.
     */
    uint16_t victim;
} spurless_hit;

/*
 Two carriers closer than the spacing. Carriers are counted from 0, in the order they were given.
 */
typedef struct spurless_breach {
    /*
     One of them.
     */
    uint16_t a;
    /*
     The other, which was given later.
     */
    uint16_t b;
    /*
     How far b lies above a; negative: below.
     */
    int64_t distance_hz;
} spurless_breach;

/*
 The worst cases of a set of carriers, found by plain enumeration.
 */
typedef struct spurless_certificate {
    /*
     Products that land on a carrier.
     */
    uint32_t hits;
    /*
     Pairs of carriers closer than the spacing.
     */
    uint32_t breaches;
    /*
     Links on a carrier that they cannot tune, or that is not allowed. 0 for a bare set.
     */
    uint32_t barred;
    /*
     The smallest distance between two carriers of which one is ours, or SPURLESS_NO_DISTANCE.
     */
    int64_t nearest_carrier_hz;
    /*
     How near the nearest product comes to a carrier, kind by kind in the order of
     spurless_guards, or SPURLESS_NO_DISTANCE.
     */
    int64_t nearest_product_hz[5];
} spurless_certificate;

/*
 How far a plan has come.
 */
typedef struct spurless_progress {
    /*
     Carriers tried so far, all stages together.
     */
    uint64_t nodes;
    /*
     One of spurless_plan_stage.
     */
    int32_t stage;
    /*
     Links that have a carrier in the best plan so far.
     */
    uint16_t seated;
    /*
     Links that want one.
     */
    uint16_t wanted;
} spurless_progress;

/*
 Why a plan cannot exist, with its figures; those that a kind does not have are 0.
 */
typedef struct spurless_proof {
    /*
     With EXHAUSTED: how many carriers were tried.
     */
    uint64_t nodes;
    /*
     One of spurless_proof_kind.
     */
    int32_t kind;
    /*
     With all but STANDING_CLASH and EXHAUSTED: the link, from 0.
     */
    uint16_t link;
    /*
     With ROOM, ADJACENT_GAPS and GAP_SUM: how many links tune like it.
     */
    uint16_t wanted;
    /*
     With ROOM: how many of them fit at most.
     */
    uint16_t room;
    /*
     With ADJACENT_GAPS and GAP_SUM: the span that they need at least.
     */
    uint32_t needs_hz;
    /*
     With ADJACENT_GAPS and GAP_SUM: the span from the lowest to the highest place open to them.
     */
    uint32_t spans_hz;
} spurless_proof;

/*
 A text in UTF-8. It needs no zero byte at its end. NULL and 0: no text.
 */
typedef struct spurless_label {
    /*
     Its first byte.
     */
    const char *text;
    /*
     How many bytes it has.
     */
    size_t length;
} spurless_label;

/*
 Carriers at equal steps: low_hz + k * step_hz, none above high_hz.

 Both ends count: 42 MHz in 25 kHz steps are 1681 carriers. A window has at most 1048576.
 */
typedef struct spurless_window {
    /*
     The lowest carrier.
     */
    uint32_t low_hz;
    /*
     No carrier lies above this.
     */
    uint32_t high_hz;
    /*
     The distance between neighbours; not 0.
     */
    uint32_t step_hz;
} spurless_window;

/*
 One receiver and the transmitters that may feed it.
 */
typedef struct spurless_link {
    /*
     What the operator calls it.
     */
    struct spurless_label label;
    /*
     What its receiver and all its transmitters can be set to: up to 4 windows. Where the ends
     differ, spurless_raster_meet tells what they share.
     */
    const struct spurless_window *windows;
    /*
     How many windows there are.
     */
    size_t window_count;
    /*
     The width that its carrier fills.
     */
    uint32_t bandwidth_hz;
    /*
     Where it is now; 0: nowhere yet.
     */
    uint32_t present_hz;
    /*
     1: it stays where it is. 0: it may be moved.
     */
    uint8_t is_held;
    /*
     How many spare carriers it should have.
     */
    uint8_t spares;
} spurless_link;

/*
 Somebody else's carrier.
 */
typedef struct spurless_foreign {
    /*
     Whose it is.
     */
    struct spurless_label label;
    /*
     Where it is.
     */
    uint32_t carrier_hz;
    /*
     1: we promised to keep our products off it. 0: we did not.
     */
    uint8_t is_protected;
} spurless_foreign;

/*
 A stretch of spectrum; both edges belong to it.
 */
typedef struct spurless_stretch {
    /*
     Lower edge.
     */
    uint32_t low_hz;
    /*
     Upper edge.
     */
    uint32_t high_hz;
    /*
     On what ground it may be used, or why it must not be.
     */
    struct spurless_label why;
} spurless_stretch;

/*
 A whole problem.

 Caution: what may be used, and with what power, is the law of the place. Permits left empty
 mean that nothing is known, and then nothing is held against a carrier. Never plan on
 frequencies of emergency services or aviation.
 */
typedef struct spurless_problem {
    /*
     The links, at most 1000.
     */
    const struct spurless_link *links;
    /*
     How many links there are.
     */
    size_t link_count;
    /*
     Carriers of others.
     */
    const struct spurless_foreign *foreign;
    /*
     How many carriers of others there are.
     */
    size_t foreign_count;
    /*
     Where use is allowed. None: nothing is known, nothing is held against a carrier.
     */
    const struct spurless_stretch *permits;
    /*
     How many permits there are.
     */
    size_t permit_count;
    /*
     Where use is not allowed or makes no sense: television in use, a neighbour's promise.
     */
    const struct spurless_stretch *blocked;
    /*
     How many blocked stretches there are.
     */
    size_t blocked_count;
    /*
     What was heard here, or NULL. It must not be changed while the plan is used.
     */
    struct spurless_survey *survey;
    /*
     How far over the survey's floor a place counts as busy, in hundredths of a decibel; 1000 is
     usual.
     */
    int32_t margin_hundredths_db;
    /*
     One of spurless_unheard.
     */
    int32_t unheard;
    /*
     The least distance between two carriers of which one is ours; 400000 is usual for ordinary
     frequency-modulated kit (common practice, no published source).
     */
    uint32_t spacing_hz;
    /*
     How near products may come.
     */
    struct spurless_guards guards;
} spurless_problem;

/*
 What is wrong with a problem, and where.
 */
typedef struct spurless_fault {
    /*
     What spurless_plan_start would answer; SPURLESS_STATUS_OK: nothing is wrong.
     */
    int32_t status;
    /*
     Where: one of spurless_problem_part.
     */
    int32_t part;
    /*
     Which entry of that list, from 0.
     */
    size_t index;
} spurless_fault;

/*
 The nearest carrier of a window to a wish.
 */
typedef struct spurless_nearest {
    /*
     How far the wish lies above the carrier; negative: below; 0: the wish can be tuned.
     */
    int64_t miss_hz;
    /*
     The carrier.
     */
    uint32_t carrier_hz;
    /*
     Its place in the window, from 0.
     */
    uint32_t place;
} spurless_nearest;

/*
 What a survey says of a carrier, in full. Levels are in hundredths of a decibel.
 */
typedef struct spurless_verdict {
    /*
     One of spurless_heard.
     */
    int32_t heard;
    /*
     The power in the bandwidth as far as it was heard, averaged over the passes; 0 where unheard.
     */
    int32_t level_hundredths_db;
    /*
     How far the loudest cell stands over the floor; 0 unless busy.
     */
    int32_t over_floor_hundredths_db;
} spurless_verdict;

#ifdef __cplusplus
extern "C" {
#endif // __cplusplus

/*
 The meaning of a status in English, for a log. Any number may be asked for; one that is no
 status gets a text that says so. The text is constant and never freed.
 */
const char *spurless_status_text(int32_t status);

/*
 How many bytes of memory a check of so many carriers needs; SPURLESS_CHECK_MEMORY(carriers) is
 at least that. TOO_MANY_CARRIERS beyond 32767.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS int32_t spurless_check_memory(size_t carriers, size_t *bytes);

/*
 Starts a check of a set of carriers in memory of the caller.

 The memory must be aligned as uint64_t is and is the check's until it is no longer used; there
 is nothing to free, and it must not be moved. Carriers and guards are copied. After a failure
 the memory holds nothing.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_check_start(void *memory,
                             size_t bytes,
                             const struct spurless_carrier *carriers,
                             size_t count,
                             const struct spurless_guards *guards,
                             struct spurless_check **check);

/*
 The next hit; END after the last.

 Hits come form by form, within a form in an order that is always the same but means nothing.
 Work: for the whole check about n squared steps, and the hits.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_check_next(struct spurless_check *check,
                            struct spurless_hit *hit);

/*
 The hit that came last, written out: "2 x 544.800 - 544.000 = 545.600", in MHz. NOT_THERE
 before the first.

 *length gets the length without the closing zero byte; if the status is OUTPUT_TOO_SHORT, a
 buffer of one byte more than that holds it.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_check_sum(const struct spurless_check *check,
                           char *text,
                           size_t capacity,
                           size_t *length);

/*
 Every pair of carriers closer than the spacing, strictly, of which at least one is ours. Two
 carriers on one frequency are always too close.

 *written gets how many there are; if the status is OUTPUT_TOO_SHORT, none are written and so
 many are needed. Work: n squared.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_check_breaches(const struct spurless_check *check,
                                uint32_t spacing_hz,
                                struct spurless_breach *breaches,
                                size_t capacity,
                                size_t *written);

/*
 The worst cases of the set, by plain enumeration and independent of spurless_check_next.

 Work: n to the fourth with three-transmitter kinds on, n cubed without.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_check_verify(const struct spurless_check *check,
                              uint32_t spacing_hz,
                              struct spurless_certificate *certificate);

/*
 Reads a frequency as people write it: "606.500", "606,5 MHz", "606500 kHz".

 A number without a unit is taken in unit_if_bare, one of spurless_unit; nothing is guessed from
 its size. The result is 0 to 4294967295 Hz; anything finer than one hertz is refused.

 Statuses: EMPTY, NOT_A_NUMBER, TOO_FINE, OUT_OF_RANGE, UNKNOWN_UNIT, NOT_UTF8, UNKNOWN_VALUE.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_frequency_read(const char *text,
                                size_t length,
                                int32_t unit_if_bare,
                                uint32_t *frequency_hz);

/*
 Writes a frequency as people read it, and a zero byte: "606.500 MHz", "400 kHz".

 *length gets the length without the zero byte; if the status is OUTPUT_TOO_SHORT, a buffer of
 one byte more than that holds it. 24 bytes hold every frequency.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_frequency_write(uint32_t frequency_hz,
                                 char *text,
                                 size_t capacity,
                                 size_t *length);

/*
 Works for up to so many nodes and says how far the plan has come. 0 works like 1.

 Call it until the stage is SPURLESS_PLAN_STAGE_DONE; the work may be cut anyhow, the plan stays
 the same. A node costs a copy of the open places (an eighth of a byte a carrier a group) and one
 interval a product that involves the new carrier.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_step(struct spurless_plan *plan,
                           uint64_t nodes,
                           struct spurless_progress *progress);

/*
 What the plan came to: one of spurless_outcome, and how its spares may be used: one of
 spurless_spare_use.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_outcome(const struct spurless_plan *plan,
                              int32_t *outcome,
                              int32_t *spare_use);

/*
 Why the plan cannot exist. NOT_THERE unless its outcome is SPURLESS_OUTCOME_INFEASIBLE.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_proof(const struct spurless_plan *plan,
                            struct spurless_proof *proof);

/*
 The carrier of a link, from 0, in the best plan so far. NOT_THERE if it has none, NOT_DONE while
 the plan tries loosenings.

 Caution: set the same carrier in the transmitter and in its receiver, and listen there before
 you switch on.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_carrier(const struct spurless_plan *plan,
                              size_t link,
                              uint32_t *carrier_hz);

/*
 The spare carriers of a link, from 0, best first. NOT_DONE until the plan is done.

 *written gets how many there are, which may be fewer than were asked for; if the status is
 OUTPUT_TOO_SHORT, none are written and so many are needed.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_spares(struct spurless_plan *plan,
                             size_t link,
                             uint32_t *carriers_hz,
                             size_t capacity,
                             size_t *written);

/*
 The worst cases of the plan, by plain enumeration, independent of the search: links, spares that
 may be used together, and everything that stands. NOT_DONE until the plan is done.

 Work: carriers to the fourth with three-transmitter kinds on, cubed without.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_certificate(struct spurless_plan *plan,
                                  struct spurless_certificate *certificate);

/*
 A loosening that was tried after a failure, from 0, least harmful first: what it brings, one of
 spurless_loosening_worth, and what it is, in English. NOT_THERE beyond the last, NOT_DONE until
 the plan is done.

 *length gets the length without the closing zero byte; if the status is OUTPUT_TOO_SHORT, a
 buffer of one byte more than that holds it, and nothing else is written.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_loosening(const struct spurless_plan *plan,
                                size_t index,
                                int32_t *worth,
                                char *text,
                                size_t capacity,
                                size_t *length);

/*
 Says what is wrong with a problem, and where: the first fault in the order links, foreign
 carriers, permits, blocked stretches, the rest.

 For the message to whoever typed it in: spurless_plan_start finds the same and tells only what.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_examine(const struct spurless_problem *problem,
                              struct spurless_fault *fault);

/*
 How many bytes of memory a problem needs; SPURLESS_PLAN_MEMORY is at least that.

 Work: links squared. Statuses: those of spurless_plan_start for windows and counts.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_memory(const struct spurless_problem *problem,
                             size_t *bytes);

/*
 Starts a plan in memory of the caller.

 The memory must be aligned as uint64_t is and is the plan's until it is no longer used; there
 is nothing to free, and it must not be moved. The problem is copied, all but the labels and the
 survey: these must stay where and as they are for as long as the plan is used. After a failure
 the memory holds nothing.

 budget is the number of nodes that placing the links may use, SPURLESS_PLAN_BUDGET if nothing
 speaks for another; the later stages take a fraction of it. The same problem and budget give the
 same plan on every machine.

 Statuses: NO_STEP, BACKWARDS, TOO_MANY_STEPS, TOO_MANY_WINDOWS for a window or a stretch;
 HELD_NOWHERE, UNKNOWN_VALUE, NOT_UTF8 for a link or a foreign carrier; TOO_MANY_CARRIERS.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_plan_start(void *memory,
                            size_t bytes,
                            const struct spurless_problem *problem,
                            uint64_t budget,
                            struct spurless_plan **plan);

/*
 How many carriers a window has: at least 1.

 Statuses: NO_STEP, BACKWARDS, TOO_MANY_STEPS, as in every function that takes a window.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_raster_count(const struct spurless_window *window,
                              uint32_t *carriers);

/*
 The carrier at a place of a window, from 0. NOT_THERE beyond the last.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_raster_at(const struct spurless_window *window,
                           uint32_t place,
                           uint32_t *carrier_hz);

/*
 The place of a carrier in a window, from 0. NOT_THERE if the window does not have it.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_raster_place(const struct spurless_window *window,
                              uint32_t carrier_hz,
                              uint32_t *place);

/*
 The nearest carrier of a window to a wish; halfway between two it is the lower.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_raster_nearest(const struct spurless_window *window,
                                uint32_t wish_hz,
                                struct spurless_nearest *nearest);

/*
 The carriers that two windows have in common, which again stand at equal steps: what a
 transmitter and a receiver can both be set to. NOT_THERE if they never meet.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_raster_meet(const struct spurless_window *one,
                             const struct spurless_window *other,
                             struct spurless_window *common);

/*
 How many bytes of memory a survey around each carrier of a window needs;
 SPURLESS_SURVEY_MEMORY(carriers) is at least that.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_survey_memory(const struct spurless_window *window,
                               size_t *bytes);

/*
 Starts an empty survey with one cell around each carrier of a window, in memory of the caller.

 The cells are as wide as the window's step; choose a step as wide as those of the receiver that
 sweeps. The memory must be aligned as uint64_t is and is the survey's until it is no longer
 used; there is nothing to free, and it must not be moved. After a failure it holds nothing.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_survey_start(void *memory,
                              size_t bytes,
                              const struct spurless_window *window,
                              struct spurless_survey **survey);

/*
 Takes in one reading: what was received from low_hz up to, but not including, high_hz, in
 hundredths of a decibel over any reference (-9250 for -92.5 dBm).

 What lies beside the survey's window is dropped. A plan that uses this survey ends: its
 functions answer SURVEY_CHANGED from now on.

 Statuses: BACKWARDS if high_hz is not above low_hz; OUT_OF_RANGE beyond -32767 to 32767.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_survey_add(struct spurless_survey *survey,
                            uint32_t low_hz,
                            uint32_t high_hz,
                            int32_t level_hundredths_db);

/*
 Forgets everything heard. A plan that uses this survey ends.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS int32_t spurless_survey_forget(struct spurless_survey *survey);

/*
 The noise floor of a survey, in hundredths of a decibel. NOT_THERE if nothing was heard yet.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_survey_floor(struct spurless_survey *survey,
                              int32_t *floor_hundredths_db);

/*
 Whether a carrier of a bandwidth would stand on somebody, in the noise, or on what was never
 measured. Busy: its loudest cell stands margin_hundredths_db or more over the floor; 1000
 (10 dB) is usual.

 # Safety
 See ffi/README.md.
 */
SPURLESS_LOOK_AT_STATUS
int32_t spurless_survey_verdict(struct spurless_survey *survey,
                                uint32_t carrier_hz,
                                uint32_t bandwidth_hz,
                                int32_t margin_hundredths_db,
                                struct spurless_verdict *verdict);

/*
 Defined nowhere. "Undefined reference" to it means that a panic is reachable in this build;
 build with optimisation (`--profile firmware`) before you suspect the code.
 */
extern void spurless_a_panic_is_reachable(void);

/*
 The number of the interface that the library keeps. Compare it with SPURLESS_ABI once, at the
 start, where the library is shared and may have been exchanged.
 */
uint32_t spurless_abi(void);

#ifdef __cplusplus
}  // extern "C"
#endif  // __cplusplus

#endif  /* SPURLESS_H */
