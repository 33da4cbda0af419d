/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-rule.h — what the rules of the plan share (private to the room).
 *
 * A rule reads the context and adds tasks; whether a task may be done now is
 * decided in one place (core-plan.c), so that no rule can forget the hold.
 */
#pragma once

#include "core/core-growth.h"
#include "core/core-plan.h"
#include "core/core-reason-ids.h"

/* What the belly says today. */
typedef enum
{
  CORE_BELLY_KNOWN,  /* scored within the last three days */
  CORE_BELLY_FADING, /* out of date for less than three days */
  CORE_BELLY_UNKNOWN
} CoreBellyNews;

/* A hold that is over: since when, and the first day on which food, the lid and the animal itself were
 * free again; CORE_DAY_NONE = not yet, or they always were. */
typedef struct
{
  CoreDay since, food, open, touch;
} CoreFreed;
#define CORE_MOST_FREED 6

typedef struct
{
  const CorePlanInput *in;
  const CoreState *s;
  const CoreProfile *p;
  CorePlan *out;
  CoreHold hold;
  bool strong_hold; /* pumping, splitting, hanging in the range, hardening */
  CoreFreed freed[CORE_MOST_FREED]; /* by holds of the present stage that are over */
  size_t n_freed;
  CoreDay moulted_from, meal_free; /* its last moult was on that day or later; food from then on; NONE = no moult */
  bool lot;
  bool has_range;
  CoreDay lo, hi;    /* the range, when has_range */
  bool in_range;     /* today >= lo */
  bool doubtful;     /* more likely than not no moult comes any more */
  int m_low, m_high; /* careful ends of the stage; -1 unknown */
  double p_male;
  CoreGrowth body; /* its length, mm; NAN unknown */
  bool outgrown; /* it has probably moulted since its length was known */
  CoreBellyNews belly;
  bool resting;
  bool gravid;  /* laying, mated, or said to carry eggs */
  CoreReason carries; /* why, when gravid */
  CoreDay carries_since; /* said to carry eggs, mated, or laid */
  const CoreSignSeen *some_sign; /* of a lot: a sign of today, NULL */
  bool some_moulted;             /* of a lot: some or all of it moulted today */
  int refusals; /* run of the present refusals */
  CoreDay second_refusal, last_refusal;
  const CoreTroubleSeen *ill; /* for which food waits, or waited lately; NULL */
  CoreDay ill_free;           /* the first day with food again */
  CorePast stands;            /* by the usual temperatures entered for its place */
  bool failed; /* out of memory */
} CoreRuleContext;

typedef struct
{
  double a, b; /* every a to b days */
  bool own;    /* set by the keeper for this animal */
  CoreId entry;
  CoreDay daily_from, daily_to; /* daily in between; empty unless from < to */
} CoreEvery;

typedef struct
{
  CoreTaskKind kind;
  unsigned subjects;                  /* bits of CORE_FOR */
  void (*run) (CoreRuleContext *ctx); /* adds tasks */
} CoreRule;

extern const CoreRule core_rules[];
extern const size_t core_n_rules;

/* Context and helpers */
void core_rule_context_init (CoreRuleContext *self, const CorePlanInput *in, CorePlan *out);
CoreReason core_because (CorePlanReason reason, CoreDay day, CoreId entry);
CoreReason core_because_value (CorePlanReason reason,
                               CoreUnit unit,
                               double value,
                               double value2,
                               CoreDay day,
                               CoreId entry);
CoreReason core_because_range (const CoreRuleContext *ctx, CorePlanReason reason);
CoreTask core_task_make (const CoreRuleContext *ctx,
                         CoreTaskKind kind,
                         CoreReach reach,
                         CoreDay earliest,
                         CoreDay due,
                         CoreDay latest,
                         double weight);
void core_task_why (CoreTask *task, CoreReason reason);
void core_held_why (CoreHeld *held, CoreReason reason);
/* The keeper's interval (`set key=interval.NAME`), else the span. */
CoreEvery core_every (const CoreRuleContext *ctx, CoreTaskKind kind, double a, double b);
/* Last day of a `done` mark of this task, CORE_DAY_NONE when never. */
CoreDay core_done_day (const CoreState *state, CoreTaskKind kind, CoreId *entry);
/* The later of two days, either may be CORE_DAY_NONE. */
CoreDay core_later (CoreDay a, CoreDay b);
/* Since when nobody has looked at it: its last look, or what is later, its arrival or the day on
 * which one of a lot got a cup of its own. */
CoreDay core_unseen_since (const CoreState *state);
#define CORE_UNSEEN_DAYS 4 /* after so many a look comes forward whatever else is known */
/* Signs of the present stage; NULL when not seen. */
const CoreSignSeen *core_sign_seen (const CoreState *state, int sign);
CoreDay core_stage_since (const CoreState *state); /* latest day of its beginning, or NONE */

/* Ids: "SUBJECT:task:YYYY-MM-DD" or "SUBJECT:task:mN". */
void core_task_id_day (CoreTask *task, CoreDay day);
void core_task_id_stage (CoreTask *task, int moults);

/* Adds a task, or what is held of it. */
void core_plan_add (CoreRuleContext *ctx, CoreTask *task);
/* Adds it and its further occurrences up to `to`, every a days, id by day. */
void core_plan_repeat (CoreRuleContext *ctx, CoreTask *task, CoreEvery every);
void core_plan_hold (CoreRuleContext *ctx, const CoreHeld *held);
bool core_plan_touches (const CoreRuleContext *ctx, const CoreTask *task);

CoreHold core_hold_of (CoreRuleContext *ctx); /* also sets strong_hold, freed */
/* `due`, or the first free day where a hold that is over forbade the task on that day. */
CoreDay core_hold_freed (const CoreRuleContext *ctx, CoreTaskKind kind, CoreReach reach, CoreDay due);
/* Pumping or splitting of the present stage, and the last day on which that moult can have come;
 * NULL = not seen. */
const CoreSignSeen *core_certain_sign (const CoreState *state, CoreDay *latest);

/* Trouble of that kind, CORE_TROUBLE_*, that was entered and not answered since; NULL = none. */
const CoreTroubleSeen *core_trouble_open (const CoreRuleContext *ctx, int what);
/* The moult in which it got stuck or fell, where that was not answered since; NULL = none. */
const CoreStage *core_bad_moult_open (const CoreRuleContext *ctx);
void core_trouble_hold (const CoreRuleContext *ctx, CoreHold *hold);

/* Of an animal: vomiting, mites or weakness, for which food waits. */
void core_ill_find (CoreRuleContext *ctx);
bool core_ill_holds (const CoreRuleContext *ctx); /* today */
CoreReason core_ill_because (const CoreRuleContext *ctx, CorePlanReason reason);
CoreReason core_ill_reason (const CoreRuleContext *ctx); /* why food waits */

/* Whether its place is, by its usual temperatures, past what its kind is looked at at once for. */
void core_stands_find (CoreRuleContext *ctx);
CoreReason core_stands_reason (const CoreRuleContext *ctx);

/* Readings that ask for more water: dry or hot air where it stands; and one day oftener, at most
 * daily. */
bool core_air_asks (const CoreRuleContext *ctx, CoreReason *why);
CoreEvery core_every_oftener (CoreEvery every);

/* The last power cut of where it stands, after which nobody has looked at it; NULL = none. */
const CorePlaceState *core_power_cut (const CoreRuleContext *ctx);
void core_power_say (const CoreRuleContext *ctx, const CorePlaceState *cut, CoreTask *task);

/* Prey */
bool core_prey_bites (int prey);
bool core_prey_soft (int prey);
typedef struct
{
  bool small_soft; /* one small soft prey */
  bool no_bites;   /* rather one that need not be taken out again */
  bool smaller;    /* another, smaller one than `last` first */
  int last;        /* prey of the last meals, -1 */
  bool vary;       /* the last three meals were `last` */
} CorePreyWish;
void core_prey_offer (const CoreRuleContext *ctx, const CorePreyWish *wish, CoreTask *task);

void core_rule_adult (CoreRuleContext *ctx);
void core_rule_after_moult (CoreRuleContext *ctx);
void core_rule_clean (CoreRuleContext *ctx);
void core_rule_climate (CoreRuleContext *ctx);
void core_rule_culture (CoreRuleContext *ctx);
void core_rule_eggcase (CoreRuleContext *ctx);
void core_rule_emergency (CoreRuleContext *ctx);
void core_rule_feed (CoreRuleContext *ctx);
void core_rule_heat (CoreRuleContext *ctx);
void core_rule_home (CoreRuleContext *ctx);
void core_rule_is_dead (CoreRuleContext *ctx);
void core_rule_look (CoreRuleContext *ctx);
void core_rule_mist (CoreRuleContext *ctx);
void core_rule_separate (CoreRuleContext *ctx);
void core_rule_sex_check (CoreRuleContext *ctx);
void core_rule_shed (CoreRuleContext *ctx);
void core_rule_stands (CoreRuleContext *ctx);
void core_rule_take_out (CoreRuleContext *ctx);
void core_rule_water (CoreRuleContext *ctx);
