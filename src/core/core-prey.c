/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-prey.c — the ladder of prey: which kind, how many.
 *
 * Only kinds that fit are offered; without a body length none is, and the task
 * says so.
 */
#include <math.h>
#include <string.h>

#include "core/core-rule.h"

typedef struct
{
  const char *name;
  double mm; /* length of one as usually offered; 0 = not said */
  bool flying;
  bool bites; /* may hurt a moulting animal: goes out again */
  bool soft;
  bool offered; /* ever proposed by the plan */
  bool seldom;  /* fat, or with a caution: proposed last */
} Prey;

static const Prey PREY[CORE_N_PREY] = {
  /* Chen et al. 2014: adult 2.607 mm reared at 20 °C, 2.547 at 29 °C */
  [CORE_PREY_MELANOGASTER] = { "melanogaster", 2.6, true, false, true, true, false },
  /* adult about 3 mm: a weak page (an essay), agreeing with memory */
  [CORE_PREY_HYDEI] = { "hydei", 3, true, false, true, true, false },
  /* Musca domestica adult 6–7 mm: several agreeing pages */
  [CORE_PREY_HOUSE_FLY] = { "house fly", 6.5, true, false, true, true, false },
  /* Lucilia sericata adult about 10 mm: e-insects, Wageningen */
  [CORE_PREY_GREEN_BOTTLE] = { "green bottle", 10, true, false, true, true, false },
  /* Calliphora vicina adult 10–11 mm: terrain.net.nz */
  [CORE_PREY_BLUE_BOTTLE] = { "blue bottle", 10.5, true, false, true, true, false },
  /* Galleria mellonella adult 20 mm: University of Illinois, rearing page */
  [CORE_PREY_MOTH] = { "moth", 20, true, false, true, true, false },
  /* a medium cricket: common practice, no source */
  [CORE_PREY_CRICKET] = { "cricket", 15, false, true, false, true, true },
  /* a medium roach nymph: common practice, no source */
  [CORE_PREY_ROACH] = { "roach", 20, false, true, false, true, false },
  /* Schistocerca gregaria third hopper 20 mm: Mackean */
  [CORE_PREY_LOCUST] = { "locust", 20, false, true, false, true, false },
  /* Tenebrio molitor full-grown larva 25 mm: smithlifescience.com */
  [CORE_PREY_MEALWORM] = { "mealworm", 25, false, true, false, true, true },
  /* Galleria mellonella full-grown larva 25 mm: University of Illinois, rearing page */
  [CORE_PREY_WAXWORM] = { "waxworm", 25, false, false, true, true, true },
  [CORE_PREY_HONEY] = { "honey", 0, false, false, true, false, true },
  [CORE_PREY_OTHER] = { "other", 0, false, false, false, false, true },
};

/* A meal of about this share of the body length (ours: about the abdomen). */
static const double MEAL_SHARE = .35;
static const int MOST_PREY = 5;
/* Too large a prey is worse than too small a one (ours). */
static const double OVER_TIMES = 2;

static bool
is_prey (int prey)
{
  return prey >= 0 && prey < CORE_N_PREY;
}

const char *
core_prey_name (int prey)
{
  return is_prey (prey) ? PREY[prey].name : "";
}

/* Roaches, locusts, the scales of moths, and fruit flies, which are tapped out of their culture;
 * larger flies hatch from pupae. Common practice, no source. */
bool
core_prey_allergen (int prey)
{
  return prey == CORE_PREY_ROACH || prey == CORE_PREY_LOCUST || prey == CORE_PREY_MOTH ||
         prey == CORE_PREY_MELANOGASTER || prey == CORE_PREY_HYDEI;
}

double
core_prey_mm (int prey)
{
  return is_prey (prey) ? PREY[prey].mm : 0;
}

bool
core_prey_bites (int prey)
{
  return is_prey (prey) && PREY[prey].bites;
}

bool
core_prey_soft (int prey)
{
  return is_prey (prey) && PREY[prey].soft;
}

static double
largest (const CoreState *state, const CoreProfile *profile, double body)
{
  return body * (state->adult ? profile->prey_adult : profile->prey_nymph);
}

static CorePreyFit
fits (const CoreState *state, const CoreProfile *profile, double body, int prey)
{
  if (!is_prey (prey) || PREY[prey].mm <= 0)
    return CORE_PREY_FITS; /* honey, and what nobody can know */
  if (profile->flying_prey_only && !PREY[prey].flying)
    return CORE_PREY_NOT_FLYING;
  if (profile->avoid_prey & 1u << prey)
    return CORE_PREY_AVOID;
  if (!isfinite (body))
    return CORE_PREY_UNKNOWN;
  return PREY[prey].mm > largest (state, profile, body) ? CORE_PREY_TOO_LARGE : CORE_PREY_FITS;
}

/* What has most likely moulted is at most one moult longer: what is too large even then is too
 * large. A stage that nobody knows leaves only the hatchling's length, which it has at least. */
static CoreGrowth
at_least (const CoreState *state, const CoreProfile *profile, double p_male, bool outgrown)
{
  int moults = state->moults < 0 ? (outgrown ? -1 : 0) : state->moults + 1;

  return core_growth (state, profile, p_male, CORE_DIM_BODY,
                      moults > CORE_MAX_MOULTS ? CORE_MAX_MOULTS : moults);
}

/* Days past the p90 of the next moult from which a second one may have gone by unseen: no stage of
 * a nymph is shorter by much (ours). */
#define SECOND_MOULT_DAYS 7

static bool
may_be_moults_on (const CoreForecast *forecast)
{
  return forecast && forecast->days[CORE_Q90] < -SECOND_MOULT_DAYS;
}

CorePreyFit
core_prey_fits (const CoreState *state,
                const CoreProfile *profile,
                const CoreForecast *forecast,
                const CoreSexVerdict *verdict,
                int prey)
{
  double p_male = verdict ? verdict->male : .5;
  bool outgrown = core_body_outgrown (state, forecast);
  CoreGrowth body = core_body_range (state, profile, p_male);
  bool known = isfinite (core_body_safe (&body));
  CorePreyFit fit;

  if (known && !outgrown)
    return fits (state, profile, core_body_safe (&body), prey);
  body = at_least (state, profile, p_male, outgrown);
  fit = fits (state, profile, core_body_safe (&body), prey);
  if (fit == CORE_PREY_TOO_LARGE && (!outgrown || may_be_moults_on (forecast)))
    return CORE_PREY_UNKNOWN;
  return fit;
}

/* Another prey for a change, where size or softness does not matter more. */
static bool
varies (const CorePreyWish *wish)
{
  return wish->vary && !wish->smaller && !wish->small_soft;
}

/* Smaller is better: how far from the wished size, with what is unwelcome far behind. */
static double
score (const CoreRuleContext *ctx, const CorePreyWish *wish, int prey)
{
  const Prey *p = &PREY[prey];
  double target = MEAL_SHARE * core_body_safe (&ctx->body) * (wish->small_soft ? .5 : 1);
  double s = log (p->mm / target);
  s = s > 0 ? OVER_TIMES * s : -s;
  if (p->seldom)
    s += 10;
  if (!p->flying && ctx->p->group == CORE_GROUP_HUMID)
    s += 5; /* flies and moths first */
  if (wish->small_soft && !p->soft)
    s += 20;
  if (wish->no_bites && p->bites)
    s += 25;
  if (varies (wish) && prey == wish->last)
    s += 30;
  if (wish->smaller && is_prey (wish->last) && p->mm >= PREY[wish->last].mm)
    s += 40 + p->mm;
  return s;
}

/* Of a lot nobody counts what each takes: food is kept in view, no number is named. */
static int
number_of (const CoreRuleContext *ctx, const CorePreyWish *wish, int prey)
{
  int n = (int) ceil (MEAL_SHARE * core_body_safe (&ctx->body) / PREY[prey].mm - 1e-9);

  if (ctx->lot)
    return 0;
  if (wish->small_soft || n < 1)
    return 1;
  return n > MOST_PREY ? MOST_PREY : n;
}

/* A length that nobody measured is said with its range, and that it should be measured. */
static CoreReason
by_size (const CoreRuleContext *ctx)
{
  double safe = core_body_safe (&ctx->body), most = largest (ctx->s, ctx->p, safe);
  CoreReason r =
    core_because_value (ctx->body.measured > 0 ? CORE_R_PREY_SIZE : CORE_R_PREY_NOT_MEASURED,
                        CORE_UNIT_MM, safe, most, CORE_DAY_NONE, (CoreId){ { 0 } });

  r.value3 = ctx->body.p90;
  return r;
}

static void
say_why (const CoreRuleContext *ctx, const CorePreyWish *wish, CoreTask *task)
{
  CoreId none = { { 0 } };
  CoreReason last = core_because (CORE_R_PREY_VARY, CORE_DAY_NONE, none);
  last.code = wish->last;
  if (varies (wish))
    core_task_why (task, last);
  last.rule = core_plan_reason_id (CORE_R_PREY_SMALLER_FIRST);
  last.day = ctx->has_range ? ctx->lo : CORE_DAY_NONE;
  if (wish->smaller)
    core_task_why (task, last);
  core_task_why (task, by_size (ctx));
  if (ctx->p->flying_prey_only)
    core_task_why (task, core_because (CORE_R_PREY_FLYING_ONLY, CORE_DAY_NONE, none));
}

void
core_prey_offer (const CoreRuleContext *ctx, const CorePreyWish *wish, CoreTask *task)
{
  bool used[CORE_N_PREY] = { false };
  double safe = core_body_safe (&ctx->body);

  if (!isfinite (safe) || safe <= 0)
    {
      CoreReason why = core_because (CORE_R_PREY_MEASURE_FIRST, CORE_DAY_NONE, (CoreId){ { 0 } });

      why.code = ctx->outgrown;
      core_task_why (task, why);
      return;
    }
  while (task->n_prey < CORE_TASK_PREY)
    {
      int best = -1;
      for (int prey = 0; prey < CORE_N_PREY; prey++)
        if (PREY[prey].offered && !used[prey] &&
            fits (ctx->s, ctx->p, safe, prey) == CORE_PREY_FITS &&
            (best < 0 || score (ctx, wish, prey) < score (ctx, wish, best)))
          best = prey;
      if (best < 0)
        break;
      used[best] = true;
      task->prey[task->n_prey++] =
        (CorePreyOffer){ .prey = best, .n = number_of (ctx, wish, best), .mm = PREY[best].mm };
    }
  say_why (ctx, wish, task);
}
