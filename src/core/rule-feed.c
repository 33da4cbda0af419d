/* SPDX-License-Identifier: GPL-3.0-or-later */
/* rule-feed.c — the next offer of food.
 *
 * The interval runs from the last meal offered with food in view. Thin beats
 * held: only pumping, splitting, hanging in the range and hardening stand
 * above a thin belly.
 */
#include <math.h>
#include <string.h>

#include "core/core-clock.h"
#include "core/core-rule.h"

static const int REFUSED_DAYS = 2;    /* a refused meal moves the next offer to this */
static const int FIRST_MEAL_DAYS = 7; /* so long after the hatch a first meal is spoken of (ours) */
static const int NONE_TAKEN = 3, NONE_TAKEN_DAYS = 14; /* so many meals, so long (ours) */
static const double REST_TIMES = 2;                    /* winter rest: little food (ours) */
/* In a room outside its band intervals go with its pace, within these bounds (ours). */
static const double LEAST_TIMES = .75, MOST_TIMES = 2;
static const double WEIGHT = 40;

typedef struct
{
  CoreRuleContext *ctx;
  const CoreMeal *last; /* offered with food in view; NULL = never */
  CoreEvery every;
  CoreDay due, latest;
  CorePreyWish wish;
  CoreReason why[CORE_TASK_REASONS];
  size_t n_why;
  double extra; /* weight */
} Feed;

static void
because (Feed *f, CoreReason reason)
{
  if (f->n_why < CORE_TASK_REASONS)
    f->why[f->n_why++] = reason;
}

static CoreCareRow
care_row (const CoreRuleContext *ctx)
{
  bool male = ctx->in->verdict && ctx->in->verdict->male >= .9;
  if (ctx->gravid)
    return CORE_CARE_GRAVID;
  if (ctx->s->adult)
    return male ? CORE_CARE_ADULT_M : CORE_CARE_ADULT_F;
  if (ctx->s->subadult)
    return CORE_CARE_M4;
  if (ctx->m_low >= 0 && ctx->m_low <= 1)
    return CORE_CARE_M01;
  return ctx->m_low > 3 ? CORE_CARE_M4 : CORE_CARE_M23; /* unknown: the shorter interval */
}

static bool
is_small (const CoreRuleContext *ctx)
{
  return !ctx->s->adult && !ctx->s->subadult && ctx->m_low <= 3;
}

static double
usual_day_c (const CoreRuleContext *ctx)
{
  if (ctx->in->place && isfinite (ctx->in->place->place.day_c))
    return ctx->in->place->place.day_c;
  return ctx->in->shelf ? ctx->in->shelf->place.day_c : NAN;
}

/* A cool animal needs food more seldom, a warm one oftener, by its pace against that in the
 * middle of its band; small ones always have food, and one with eggs is fed up anyway. */
static double
warmth_times (const CoreRuleContext *ctx, double day_c)
{
  CoreClock clock = core_clock_from_profile (ctx->p);
  double lo = ctx->p->day_lo.v, hi = ctx->p->day_hi.v;
  if (!isfinite (day_c) || is_small (ctx) || ctx->gravid || (day_c >= lo && day_c <= hi))
    return 1;
  double times = core_clock_rate (&clock, (lo + hi) / 2) / core_clock_rate (&clock, day_c);
  return day_c < lo ? fmax (1, fmin (MOST_TIMES, times)) : fmax (LEAST_TIMES, fmin (1, times));
}

/* Says so where that changes the interval. False: it does not. */
static bool
by_warmth (const CoreRuleContext *ctx, CoreSpan span, CoreEvery *every, CoreReason *why)
{
  double day_c = usual_day_c (ctx), times = warmth_times (ctx, day_c);
  double a = floor (span.a.v * times + .5), b = floor (span.b.v * times + .5);
  bool warm = day_c > ctx->p->day_hi.v;
  *every = core_every (ctx, CORE_TASK_FEED, a, b);
  if (every->own || (a == span.a.v && b == span.b.v))
    return false;
  *why = core_because_value (CORE_R_FEED_WARMTH, CORE_UNIT_CELSIUS, day_c,
                             warm ? ctx->p->day_hi.v : ctx->p->day_lo.v, CORE_DAY_NONE,
                             (CoreId){ { 0 } });
  why->value3 = span.a.v;
  why->code = warm;
  return true;
}

static const CoreMeal *
last_offer (const CoreState *s)
{
  for (size_t i = s->meals.n; i > 0; i--)
    if (s->meals.v[i - 1].outcome != CORE_FED_NONE_IN_VIEW)
      return &s->meals.v[i - 1];
  return NULL;
}

static void
never_fed (Feed *f)
{
  const CoreRuleContext *ctx = f->ctx;
  const CoreState *s = ctx->s;
  CoreDay since = core_later (s->acquired, CORE_DAY_NONE);
  CoreDay born = core_stage_since (s);
  if (s->stages.n == 1 && s->stages.v[0].start == CORE_START_HATCHED && born != CORE_DAY_NONE &&
      since == CORE_DAY_NONE && ctx->in->today <= born + FIRST_MEAL_DAYS)
    {
      f->due = born + 1;
      f->latest = born + 3;
      because (f, core_because (CORE_R_FEED_HATCHLING, born, s->stages.v[0].entry));
      return;
    }
  /* Bred here and no meal entered: nobody knows of any delay. */
  f->due = since == CORE_DAY_NONE || since > ctx->in->today ? ctx->in->today : since;
  if (since == CORE_DAY_NONE)
    since = s->first_day;
  f->latest = f->due + 1;
  because (f, core_because (CORE_R_FEED_NEVER, since, (CoreId){ { 0 } }));
}

static void
by_interval (Feed *f)
{
  const CoreRuleContext *ctx = f->ctx;
  CoreId entry = f->last ? f->last->entry : (CoreId){ { 0 } };
  CoreDay base = f->last ? f->last->day : CORE_DAY_NONE;
  CoreDay done = core_done_day (ctx->s, CORE_TASK_FEED, NULL);
  bool refused = f->last && f->last->outcome == CORE_FED_REFUSED;
  if (done != CORE_DAY_NONE && (base == CORE_DAY_NONE || done > base))
    {
      base = done;
      refused = false;
    }
  if (base == CORE_DAY_NONE)
    {
      never_fed (f);
      return;
    }
  int a = (int) floor (f->every.a), b = (int) floor (f->every.b);
  f->due = base + (refused ? REFUSED_DAYS : a);
  f->latest = refused ? f->due + 1 : base + b;
  CoreReason r = core_because_value (f->every.own ? CORE_R_FEED_OWN_INTERVAL : CORE_R_FEED_INTERVAL,
                                     CORE_UNIT_DAYS, f->every.a, f->every.b, base, entry);
  if (refused)
    r = core_because_value (CORE_R_FEED_REFUSED, CORE_UNIT_DAYS, REFUSED_DAYS, 0, base, entry);
  r.code = refused ? f->last->prey : (int) care_row (ctx);
  because (f, r);
  /* What was offered to the stage before says nothing of this one. */
  if (ctx->meal_free != CORE_DAY_NONE && base < ctx->moulted_from && f->due < ctx->meal_free)
    {
      f->due = ctx->meal_free;
      f->latest = ctx->meal_free + 1;
      f->n_why = 0;
      because (f, core_because (CORE_R_FEED_AFTER_MOULT, ctx->meal_free, (CoreId){ { 0 } }));
    }
}

/* Put in time and again, and never known to be eaten: silence is no appetite. */
static void
say_none_taken (Feed *f)
{
  const CoreState *s = f->ctx->s;
  CoreDay first = CORE_DAY_NONE;
  int n = 0;
  for (size_t i = s->meals.n; i > 0 && !f->ctx->lot; i--)
    {
      const CoreMeal *meal = &s->meals.v[i - 1];
      if (meal->outcome == CORE_FED_TAKEN || meal->gone)
        break;
      if (meal->outcome == CORE_FED_NONE_IN_VIEW)
        continue;
      first = meal->day;
      n++;
    }
  if (n >= NONE_TAKEN && f->ctx->in->today - first >= NONE_TAKEN_DAYS)
    because (f, core_because_value (CORE_R_FEED_NONE_TAKEN, CORE_UNIT_TIMES, n, 0, first,
                                    (CoreId){ { 0 } }));
}

static void
say_taken (Feed *f)
{
  const CoreState *s = f->ctx->s;
  CoreReason r = core_because (CORE_R_FEED_LAST_TAKEN, s->last_taken, s->last_taken_entry);
  r.code = -1;
  for (size_t i = 0; i < s->meals.n; i++)
    if (s->meals.v[i].outcome == CORE_FED_TAKEN && s->meals.v[i].day == s->last_taken)
      r.code = s->meals.v[i].prey;
  if (s->last_taken != CORE_DAY_NONE)
    because (f, r);
  say_none_taken (f);
}

/* Since when it is known to be thin: the score, or the trouble that was entered. */
static CoreDay
thin_since (const CoreRuleContext *ctx)
{
  const CoreState *s = ctx->s;
  CoreDay day =
    ctx->belly == CORE_BELLY_KNOWN && s->belly >= 1 && s->belly <= 2 ? s->belly_day : CORE_DAY_NONE;
  for (size_t i = 0; i < s->troubles.n && ctx->out->thin; i++)
    if (s->troubles.v[i].what == CORE_TROUBLE_THIN && s->troubles.v[i].day <= ctx->in->today)
      day = core_later (day, s->troubles.v[i].day);
  return day;
}

/* Seen thin, and no meal known to be taken since. */
static bool
thin (const CoreRuleContext *ctx)
{
  CoreDay since = thin_since (ctx), taken = ctx->s->last_taken;
  return since != CORE_DAY_NONE && (taken == CORE_DAY_NONE || taken < since);
}

/* Entered as thin, without a low score that tells more. */
static bool
thin_by_trouble (const CoreRuleContext *ctx)
{
  bool scored = ctx->belly == CORE_BELLY_KNOWN && ctx->s->belly <= 2;
  return !ctx->lot && !scored && thin (ctx);
}

/* The day on which food was offered because of what was seen that day, or later;
 * CORE_DAY_NONE = not yet. The second refusal asks for another prey at once. */
static CoreDay
offered_since (const Feed *f, CoreDay seen)
{
  const CoreMeal *last = f->last;
  CoreDay done = core_done_day (f->ctx->s, CORE_TASK_FEED, NULL), day = CORE_DAY_NONE;
  if (last && last->day >= seen && last->day <= f->ctx->in->today &&
      (last->outcome != CORE_FED_REFUSED || f->ctx->refusals != 2))
    day = last->day;
  return done != CORE_DAY_NONE && done >= seen ? core_later (day, done) : day;
}

/* Brought forward to today; once food was offered, to the day after. */
static void
bring_forward (Feed *f, CoreDay offered)
{
  CoreDay today = f->ctx->in->today;
  CoreDay next = offered != CORE_DAY_NONE && offered >= today ? offered + 1 : today;
  if (f->due > next)
    f->due = f->latest = next;
  if (f->latest > next)
    f->latest = f->due > next ? f->due : next;
}

/* A full belly moves the offer, an empty one brings it to today. In a gravid
 * female a round belly may be eggs. */
static void
by_belly (Feed *f)
{
  const CoreRuleContext *ctx = f->ctx;
  const CoreState *s = ctx->s;
  if (ctx->belly != CORE_BELLY_KNOWN)
    return;
  if (s->belly == 1 && thin (ctx))
    {
      CoreReason r = core_because_value (CORE_R_FEED_BELLY_EMPTY, CORE_UNIT_SCORE, 1, 0,
                                         s->belly_day, s->belly_entry);
      r.day2 = offered_since (f, s->belly_day);
      r.code = r.day2 != CORE_DAY_NONE;
      bring_forward (f, r.day2);
      f->extra += 30;
      because (f, r);
    }
  CoreDay later = s->belly_day + (CoreDay) floor (f->every.a);
  if (s->belly >= 4 && !ctx->gravid && later > f->due)
    {
      f->due = later;
      f->latest = s->belly_day + (CoreDay) floor (f->every.b);
      because (f, core_because_value (CORE_R_FEED_BELLY_FULL, CORE_UNIT_SCORE, s->belly, 0,
                                      s->belly_day, s->belly_entry));
    }
}

static void
hold_food (Feed *f, CoreDay until, CoreDay ask, const CoreReason *why, size_t n)
{
  CoreHeld held;
  memset (&held, 0, sizeof held);
  held.subject = f->ctx->s->subject;
  held.kind = CORE_TASK_FEED;
  held.until = until;
  held.ask_again = ask;
  for (size_t i = 0; i < n; i++)
    core_held_why (&held, why[i]);
  core_plan_hold (f->ctx, &held);
}

/* Longest hold on food for refusals, days; 0 = none. Common practice, no source. */
static int
longest_hold (const CoreRuleContext *ctx)
{
  if (ctx->s->adult)
    return 0;
  if (ctx->s->subadult)
    return ctx->p->subadult_fast_days >= 1 ? (int) ctx->p->subadult_fast_days : 10;
  return ctx->m_low >= 0 && ctx->m_low <= 2 ? 2 : 4;
}

/* Water, one small soft prey, a look at the belly; today, or the day after an offer. */
static void
offer_thin (Feed *f)
{
  const CoreRuleContext *ctx = f->ctx;
  bool known = ctx->belly == CORE_BELLY_KNOWN && ctx->s->belly <= 2;
  CoreDay since = thin (ctx) ? thin_since (ctx) : ctx->last_refusal;
  CoreReason r =
    core_because_value (CORE_R_FEED_THIN_FIRST, CORE_UNIT_SCORE, known ? ctx->s->belly : 0, 0,
                        ctx->s->belly ? ctx->s->belly_day : CORE_DAY_NONE,
                        known ? ctx->s->belly_entry : (CoreId){ { 0 } });
  if (thin (ctx) && !known)
    r.day = since;
  r.day2 = offered_since (f, since);
  r.code = r.day2 != CORE_DAY_NONE ? 1 : thin (ctx) && !known ? 3 : 0;
  bring_forward (f, r.day2);
  f->wish.small_soft = true;
  f->extra += 30;
  f->n_why = 0;
  because (f, r);
  say_taken (f);
}

/* The first day on which two refusals with a round belly hold food no more: the longest hold is
 * over, or, sooner, the belly's score says nothing any more. CORE_DAY_NONE = they never held it. */
static CoreDay
free_of_refusals (const CoreRuleContext *ctx, bool *by_score)
{
  const CoreState *s = ctx->s;
  CoreDay longest = ctx->second_refusal + longest_hold (ctx);
  CoreDay began = core_later (ctx->second_refusal, ctx->lo);
  if (longest_hold (ctx) == 0 || s->belly < 3 || s->belly_day == CORE_DAY_NONE)
    return CORE_DAY_NONE;
  CoreDay scored = s->belly_day + CORE_BELLY_KNOWN_DAYS + 1;
  *by_score = scored < longest;
  CoreDay free_day = *by_score ? scored : longest;
  return free_day > began ? free_day : CORE_DAY_NONE;
}

static void
wait_until (Feed *f, CoreDay free_day)
{
  if (f->due < free_day)
    f->due = f->latest = free_day;
  f->wish.small_soft = true;
}

/* Until when a score counts, and that another is wanted. */
static CoreReason
score_again (const CoreRuleContext *ctx, CorePlanReason id, CoreDay free_day)
{
  const CoreState *s = ctx->s;
  CoreReason r =
    core_because_value (id, CORE_UNIT_SCORE, s->belly, 0, s->belly_day, s->belly_entry);
  r.day2 = free_day;
  r.code = ctx->in->today < free_day;
  return r;
}

static void
hold_refusals (Feed *f, CoreDay free_day, bool by_score)
{
  const CoreRuleContext *ctx = f->ctx;
  const CoreState *s = ctx->s;
  CoreReason why[4];
  size_t n = 0;
  CoreId entry = f->last ? f->last->entry : (CoreId){ { 0 } };
  why[n] = core_because_value (CORE_R_HOLD_TWO_REFUSALS, CORE_UNIT_TIMES, ctx->refusals, 0,
                               ctx->last_refusal, entry);
  why[n++].day2 = ctx->lo;
  why[n++] = core_because_value (CORE_R_HOLD_BELLY_ROUND, CORE_UNIT_SCORE, s->belly, 0,
                                 s->belly_day, s->belly_entry);
  if (by_score)
    why[n++] = score_again (ctx, CORE_R_HOLD_SCORE_AGAIN, free_day);
  why[n++] = core_because_value (CORE_R_HOLD_LONGEST, CORE_UNIT_DAYS, longest_hold (ctx), 0,
                                 ctx->second_refusal, (CoreId){ { 0 } });
  hold_food (f, free_day - 1, ctx->in->today + 1, why, n);
  if (f->due < free_day)
    because (f, by_score ? score_again (ctx, CORE_R_FEED_SCORE_FIRST, free_day) : why[n - 1]);
}

/* Two refusals with a round belly, the range begun: food waits, not for ever. What was due
 * meanwhile is due when it is over. */
static void
held_by_refusals (Feed *f)
{
  const CoreRuleContext *ctx = f->ctx;
  bool by_score;
  CoreDay free_day = free_of_refusals (ctx, &by_score);
  if (free_day == CORE_DAY_NONE)
    return;
  if (ctx->in->today < free_day)
    {
      hold_refusals (f, free_day, by_score);
      if (f->due < free_day)
        wait_until (f, free_day);
      return;
    }
  wait_until (f, free_day);
  if (by_score)
    because (f, score_again (ctx, CORE_R_FEED_SCORE_FIRST, free_day));
  else
    because (f, core_because_value (CORE_R_FEED_AFTER_LONGEST_HOLD, CORE_UNIT_DAYS,
                                    longest_hold (ctx), 0, ctx->second_refusal, (CoreId){ { 0 } }));
}

static void
by_refusals (Feed *f)
{
  const CoreRuleContext *ctx = f->ctx;
  if (ctx->refusals < 2 || ctx->lot)
    return;
  if (thin (ctx))
    offer_thin (f);
  else if (ctx->in_range && ctx->belly == CORE_BELLY_UNKNOWN && !ctx->s->adult && !ctx->resting)
    {
      held_by_refusals (f);
      offer_thin (f);
    }
  else if (ctx->resting)
    because (f, core_because (CORE_R_FEED_REST_REFUSED, ctx->last_refusal, (CoreId){ { 0 } }));
  else if (ctx->in_range)
    held_by_refusals (f);
  else
    f->wish.smaller = true;
}

/* Nothing while food waits for it; then one small soft prey. */
static void
by_illness (Feed *f)
{
  const CoreRuleContext *ctx = f->ctx;
  CoreReason why = core_ill_reason (ctx);
  if (core_ill_holds (ctx))
    hold_food (f, ctx->ill_free - 1, ctx->in->today + 1, &why, 1);
  if (core_ill_holds (ctx) && f->due < ctx->ill_free)
    {
      f->due = f->latest = ctx->ill_free;
      f->n_why = 0;
    }
  else if (f->due >= ctx->ill->day && f->due < ctx->ill_free)
    f->due = f->latest = ctx->ill_free; /* it was forbidden on that day */
  f->wish.small_soft = true;
  because (f, core_ill_because (ctx, CORE_R_FEED_AFTER_ILL));
}

/* Whether one that was stuck is out of its skin nobody knows. */
static void
after_trouble (Feed *f)
{
  const CoreStage *bad = core_bad_moult_open (f->ctx);
  if (!bad)
    return;
  f->wish.small_soft = true;
  because (f, core_because (CORE_R_FEED_AFTER_STUCK, bad->found, bad->entry));
}

/* True when no food at all is planned. */
static bool
by_hold (Feed *f)
{
  const CoreRuleContext *ctx = f->ctx;
  const CoreHold *hold = &ctx->hold;
  if (hold->kind == CORE_HOLD_BEFORE)
    {
      /* Only a belly seen to be thin is fed beside a sign, never one not known. */
      if (!ctx->strong_hold && thin (ctx) && !ctx->ill)
        {
          offer_thin (f);
          if (f->due <= ctx->in->today)
            return false;
        }
      hold_food (f, CORE_DAY_NONE, hold->ask_again, hold->reasons, hold->n_reasons);
      return true;
    }
  if (hold->food_until != CORE_DAY_NONE && ctx->in->today <= hold->food_until)
    {
      CoreDay free_day = hold->food_until + 1;
      hold_food (f, hold->food_until, free_day, hold->reasons, hold->n_reasons);
      if (f->due < free_day)
        {
          f->due = f->latest = free_day;
          f->n_why = 0;
          if (hold->kind != CORE_HOLD_TROUBLE)
            because (f, core_because (CORE_R_FEED_AFTER_MOULT, free_day, (CoreId){ { 0 } }));
        }
      f->wish.small_soft = true;
    }
  else if (!ctx->ill)
    by_refusals (f);
  if (ctx->ill)
    by_illness (f);
  after_trouble (f);
  return false;
}

static void
wish_variety (Feed *f)
{
  const CoreState *s = f->ctx->s;
  int same = 0;
  f->wish.last = f->last ? f->last->prey : -1;
  for (size_t i = s->meals.n; i > 0 && same < 3; i--)
    {
      if (s->meals.v[i - 1].outcome == CORE_FED_NONE_IN_VIEW)
        continue;
      if (s->meals.v[i - 1].prey != f->wish.last)
        break;
      same++;
    }
  f->wish.vary = same >= 3 && f->wish.last >= 0 && f->wish.last != CORE_PREY_OTHER;
}

/* That how often is by general figures, where they are no kind's own. */
static void
say_general (const Feed *f, CoreTask *task)
{
  CoreReason r = core_because (CORE_R_GENERAL, CORE_DAY_NONE, (CoreId){ { 0 } });

  if (!f->ctx->p->general || f->every.own)
    return;
  r.code = f->ctx->s->species[0] != '\0';
  core_task_why (task, r);
}

static void
finish (Feed *f)
{
  CoreRuleContext *ctx = f->ctx;
  CoreDay earliest = f->due;
  CoreTask task = core_task_make (ctx, CORE_TASK_FEED, CORE_REACH_OPEN, earliest, f->due, f->latest,
                                  WEIGHT + f->extra);
  /* Unfed hatchlings die in four or five days, and hungry ones take each other (common practice, no
   * source): the food of a lot is never one of many things left. */
  task.forward = ctx->lot;
  if (f->due < ctx->in->today)
    task.weight += fmin (5, ctx->in->today - f->due);
  for (size_t i = 0; i < f->n_why; i++)
    core_task_why (&task, f->why[i]);
  say_general (f, &task);
  core_prey_offer (ctx, &f->wish, &task);
  if (ctx->hold.kind == CORE_HOLD_BEFORE)
    core_plan_add (ctx, &task); /* this one meal; nobody knows of a next one */
  else
    core_plan_repeat (ctx, &task, f->every);
}

/* Seen without food, and none given since: NULL = it was. */
static const CoreMeal *
none_in_view (const CoreRuleContext *ctx, CoreDay done)
{
  const CoreState *s = ctx->s;
  const CoreMeal *last = s->meals.n ? &s->meals.v[s->meals.n - 1] : NULL;
  bool empty = last && last->outcome == CORE_FED_NONE_IN_VIEW && last->day <= ctx->in->today;
  return empty && (done == CORE_DAY_NONE || done < last->day) ? last : NULL;
}

/* Lots of small ones: food must always be in view; no meals are counted. */
static void
small_lot (Feed *f)
{
  const CoreRuleContext *ctx = f->ctx;
  CoreDay done = core_done_day (ctx->s, CORE_TASK_FEED, NULL);
  CoreDay base = core_later (f->last ? f->last->day : CORE_DAY_NONE, done);
  const CoreMeal *empty = none_in_view (ctx, done);
  f->every = core_every (ctx, CORE_TASK_FEED, 1, 1);
  f->due = base == CORE_DAY_NONE ? ctx->in->today : base + (CoreDay) floor (f->every.a);
  if (empty)
    f->due = empty->day;
  f->latest = f->due;
  because (f, empty ? core_because (CORE_R_FEED_NONE_IN_VIEW, empty->day, empty->entry)
                    : core_because (CORE_R_FEED_LOT_IN_VIEW, base, (CoreId){ { 0 } }));
  if (empty)
    f->extra += 30;
  finish (f);
}

void
core_rule_feed (CoreRuleContext *ctx)
{
  Feed f = { .ctx = ctx, .last = last_offer (ctx->s), .wish = { .last = -1 } };
  CoreSpan span = ctx->p->feed[care_row (ctx)];
  CoreReason warmth;
  bool bent = false;
  if (ctx->lot && ctx->m_low >= 0 && ctx->m_low <= 2)
    {
      small_lot (&f);
      return;
    }
  if (ctx->resting)
    f.every = core_every (ctx, CORE_TASK_FEED, span.a.v * REST_TIMES, span.b.v * REST_TIMES);
  else
    bent = by_warmth (ctx, span, &f.every, &warmth);
  wish_variety (&f);
  by_interval (&f);
  if (ctx->gravid)
    because (&f, ctx->carries);
  if (bent)
    because (&f, warmth);
  if (ctx->resting)
    because (&f, core_because (CORE_R_FEED_REST, CORE_DAY_NONE, (CoreId){ { 0 } }));
  by_belly (&f);
  if (thin_by_trouble (ctx))
    offer_thin (&f);
  if (f.n_why < 3)
    say_taken (&f);
  if (!by_hold (&f))
    finish (&f);
}
