/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-plan.h — what is due, what is held back, and why.
 *
 * plan(state, verdict, forecast, profile, place, from, to) is pure over structs.
 * One file per rule (rule-*.c), one table of rules (core-rules.c).
 */
#pragma once

#include "core/core-shelf-band.h"
#include "core/core-forecast.h"
#include "core/core-growth.h"
#include "core/core-hatch.h"
#include "core/core-sex.h"

typedef enum
{
  CORE_TASK_LOOK,
  CORE_TASK_FEED,
  CORE_TASK_TAKE_OUT,
  CORE_TASK_MIST,
  CORE_TASK_WATER,
  CORE_TASK_SHED,
  CORE_TASK_AFTER_MOULT,
  CORE_TASK_HOME,
  CORE_TASK_SEX_CHECK,
  CORE_TASK_SEPARATE,
  CORE_TASK_CLEAN,
  CORE_TASK_CLIMATE,
  CORE_TASK_HEAT,
  CORE_TASK_CULTURE,
  CORE_TASK_EGGCASE,
  CORE_TASK_ADULT,
  CORE_TASK_IS_DEAD,
  CORE_N_TASKS
} CoreTaskKind;

typedef enum
{
  CORE_REACH_LOOK,    /* through the wall */
  CORE_REACH_OUTSIDE, /* spray through the mesh */
  CORE_REACH_OPEN,    /* the lid */
  CORE_REACH_TOUCH    /* the animal or what it hangs on */
} CoreReach;

/* What cannot wait is never behind what has waited long. */
typedef enum
{
  CORE_RANK_EMERGENCY, /* fell, stuck, a dangerous temperature */
  CORE_RANK_TROUBLE,   /* looks, food and water of an animal in trouble; is it dead? */
  CORE_RANK_USUAL
} CoreTaskRank;

#define CORE_TASK_REASONS 6
#define CORE_TASK_PREY 4

typedef struct
{
  int prey;   /* CORE_PREY_* */
  int n;      /* 1…5; 0 for a lot: no number is named */
  double mm;  /* length of one */
} CorePreyOffer;

typedef struct
{
  char id[64];           /* stable: subject, rule, stage or day */
  CoreId subject;
  CoreTaskKind kind;
  CoreReach reach;
  CoreDay earliest, due, latest;
  CoreDay day;           /* where a calendar shows it: due, or today when that is over */
  CoreTaskRank rank;     /* order within a day: this first */
  double weight;         /* then this, larger first */
  bool emergency;        /* never held back */
  bool trouble;          /* until it is answered */
  bool forward;          /* said by itself, however long it is left */
  bool projected;        /* not the next occurrence but a later one, by its interval */
  unsigned nth;          /* in the order in which the rules made them */
  int stage;             /* moults, -1 */
  size_t n_prey;
  CorePreyOffer prey[CORE_TASK_PREY];  /* FEED: best first */
  size_t n_reasons;
  CoreReason reasons[CORE_TASK_REASONS];
} CoreTask;

/* What a calendar of many draws of a task. */
typedef struct
{
  double weight;
  CoreDay day, due, latest;
  unsigned nth;          /* of the task */
  uint8_t rank, kind;    /* CoreTaskRank, CoreTaskKind */
  int8_t prey;           /* FEED: the first that is offered; -1 = none named */
  bool projected;
} CoreTaskRow;

typedef struct
{
  CoreId subject;
  CoreTaskKind kind;     /* the task held back */
  CoreDay until;         /* last held day; CORE_DAY_NONE = unknown ("until it has moulted") */
  CoreDay ask_again;
  size_t n_reasons;
  CoreReason reasons[CORE_TASK_REASONS];
} CoreHeld;

typedef enum
{
  CORE_HOLD_NONE,
  CORE_HOLD_BEFORE,      /* until it has moulted */
  CORE_HOLD_AFTER,       /* hardening: until a day */
  CORE_HOLD_TROUBLE      /* trouble was entered: until that is answered */
} CoreHoldKind;

/* Leave alone: what the cup as a whole says. */
typedef struct
{
  CoreHoldKind kind;
  CoreReach reach;       /* held from this reach upwards: OPEN; TOUCH once food may come again */
  CoreDay since, until;  /* last day of this reach; until CORE_DAY_NONE = unknown */
  CoreDay ask_again;
  CoreDay food_until;    /* no food up to and with this day; CORE_DAY_NONE = no such hold */
  CoreDay touch_until;   /* after a moult: no touching up to and with this day, never before `until` */
  bool by_sign;          /* AFTER a moult that nobody entered: it was seen to pump, or to split */
  size_t n_reasons;
  CoreReason reasons[CORE_TASK_REASONS];
} CoreHold;

typedef struct
{
  const CoreState *state;
  const CoreProfile *profile;
  const CoreForecast *forecast;    /* never NULL; `why` says when there is none */
  const CoreSexVerdict *verdict;   /* never NULL */
  const CoreState *place;          /* where it stands, NULL = unknown */
  const CoreState *shelf;          /* outermost place for climate and cleaning, NULL */
  const CoreHatch *hatch;          /* of an egg case; NULL = nothing is known */
  const CoreShelfBand *band;       /* of a place: of what stands there; NULL: by profile */
  bool superseded;                 /* of a feeder culture: a later one of its kind is kept */
  CoreDay today;
  CoreDay from, to;                /* days asked for; tasks whose window touches them */
  bool rows;                       /* rows alone instead of tasks: of a span over thousands */
} CorePlanInput;

typedef struct
{
  CORE_ARRAY (CoreTask) tasks; /* in the order of core_task_order */
  CORE_ARRAY (CoreTaskRow) rows; /* in the order in which the rules made them */
  CORE_ARRAY (CoreHeld) held;
  CoreHold hold;
  bool thin;             /* trouble: belly 1–2 known, or entered */
  bool trouble;          /* not answered */
  bool trouble_fresh;    /* of the last days: its care comes first */
  int trouble_what;      /* CORE_TROUBLE_*; -1 = none, or stuck in its old skin */
  int ill;               /* of these that for which food waits, -1 */
  CoreDay ill_free;      /* then the first day with food again */
  bool unseen_long;      /* not looked at for four days or more */
  bool resting;          /* its winter rest was entered, and its kind rests */
} CorePlan;

/* `out` must be initialised or of an earlier plan, whose room is used again; on anything but
 * CORE_OK it is left empty. A missed task keeps its due day (overdue = due before today) and
 * counts as today's; one task per kind, later occurrences are `projected`. The
 * rule ids of reasons and what their fields mean: core-reason-ids.h. */
void core_plan_init (CorePlan *self);
/* The order of a plan: by the day on which it counts, rank, weight; 0 = as good as each other. */
int core_task_order (const CoreTask *a, const CoreTask *b);
/* Left from an earlier evening, and neither trouble nor an emergency nor prey that bites, nor a task
 * that comes forward: such tasks of a shelf are said in one line, and one late round clears them. A cup
 * not seen for days is in that line too: it begins with it. */
bool core_task_missed (const CoreTask *task, CoreDay today);
void core_plan_clear (CorePlan *self);
CoreStatus core_plan (const CorePlanInput *input, CorePlan *out);
/* Tasks of a shelf: state is the place; profile (bands to watch) may be NULL;
 * forecast and verdict may be NULL. A place within another one has no task. */
CoreStatus core_plan_place (const CorePlanInput *input, CorePlan *out);
CoreHold core_hold_now (const CorePlanInput *input);
/* Left alone; what is only not touched for trouble of another kind is fed and sprayed as always. */
bool core_hold_alone (const CoreHold *hold);

typedef enum
{
  CORE_TRAVEL_FREE,
  CORE_TRAVEL_MOULT, /* its moult may come within a week, or is overdue */
  CORE_TRAVEL_SOFT   /* it moulted; not up to and with `until` */
} CoreTravel;
/* What speaks against sending an animal today: said, never a refusal. Other subjects are free. */
CoreTravel
core_travel (const CoreState *state, const CoreForecast *forecast, CoreDay today, CoreDay *until);

const char *core_task_name (CoreTaskKind kind);   /* "take_out": the contract's word */
/* "3" or "3-5": every a to b days, 1 … 365; false when it is neither. */
bool core_interval_parse (const char *text, double *a, double *b);
CoreTaskKind core_task_from_name (const char *name); /* CORE_N_TASKS when unknown */
const char *core_reach_name (CoreReach reach);
const char *core_prey_name (int prey);            /* "house fly" */
double core_prey_mm (int prey);                   /* typical length, mm; checks: feeder insects */
/* Does handling it, or the culture that it comes from, cause asthma and rash? */
bool core_prey_allergen (int prey);
/* Does this prey fit? by the .5 × / 1 × rule and the profile's avoid list. One that has probably
 * moulted by its forecast (may be NULL) counts as one moult longer, no more. Where nobody can say
 * how long it is, only what a hatchling of its kind takes fits; the rest is UNKNOWN. */
typedef enum
{
  CORE_PREY_FITS,
  CORE_PREY_TOO_LARGE,
  CORE_PREY_NOT_FLYING,
  CORE_PREY_AVOID,
  CORE_PREY_UNKNOWN
} CorePreyFit;
CorePreyFit core_prey_fits (const CoreState *state, const CoreProfile *profile,
                            const CoreForecast *forecast, const CoreSexVerdict *verdict, int prey);
