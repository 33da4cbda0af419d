/* SPDX-License-Identifier: GPL-3.0-or-later */
/* forecast-case.h — one animal with its profile and warmth, ready to be forecast. */
#pragma once

#include "animals.h"

#include "core/core-forecast.h"

#define TODAY 1000

typedef struct
{
  CoreState state;
  CoreProfile profile;
  CoreWarmth warmth;
  CoreForecastOptions options;
  CoreForecastInput in;
} Case;

static inline void
case_init (Case *c)
{
  memset (c, 0, sizeof *c);
  made_init (&c->state, CORE_SUBJECT_ANIMAL);
  core_profile_init (&c->profile);
  made_warmth (&c->warmth, TODAY - 300, TODAY + 500, 1, false);
  c->in = (CoreForecastInput){ .state = &c->state,
                               .profile = &c->profile,
                               .warmth = &c->warmth,
                               .today = TODAY,
                               .p_male = .5,
                               .options = &c->options };
}

static inline void
case_clear (Case *c)
{
  made_clear (&c->state);
  core_profile_clear (&c->profile);
  made_warmth_clear (&c->warmth);
}

static inline CoreForecast
forecast (Case *c)
{
  CoreForecast out;

  g_assert_cmpint (core_forecast (&c->in, &out), ==, CORE_OK);
  return out;
}

static inline void
one_number (Case *c, int n)
{
  memset (c->profile.n_moults, 0, sizeof c->profile.n_moults);
  c->profile.n_moults[0][n] = c->profile.n_moults[1][n] = 1;
}

static inline void
check_sane (const CoreForecast *f)
{
  double sum = 0;

  g_assert_cmpint (f->why, ==, CORE_NO_FORECAST_NONE);
  for (int q = 1; q < CORE_N_Q; q++)
    g_assert_cmpfloat (f->days[q - 1], <=, f->days[q]);
  g_assert_cmpfloat (f->within3, <=, f->within7 + 1e-12);
  g_assert_cmpfloat (f->within7, <=, f->within14 + 1e-12);
  g_assert_cmpfloat (f->within14, <=, 1 - f->not_normal + 1e-9);
  g_assert_cmpfloat (f->beyond, >=, 0);
  g_assert_cmpfloat (f->not_normal, >=, 0);
  g_assert_cmpint (f->p10, <=, f->p50);
  g_assert_cmpint (f->p50, <=, f->p90);
  g_assert_cmpint (f->range_lo, <=, f->range_mid);
  g_assert_cmpint (f->range_mid, <=, f->range_hi);
  for (int n = 0; n <= CORE_MAX_MOULTS; n++)
    sum += f->moults_left[n];
  g_assert_cmpfloat_with_epsilon (sum, 1, 1e-9);
  if (f->has_adult)
    g_assert_cmpint (f->adult_p10, <=, f->adult_p50);
}

/* Hatched on a known day, moulted twice, found at the next evening's look. */
static inline void
third_stage (Case *c, int ago)
{
  made_stage (&c->state, CORE_START_HATCHED, TODAY - ago - 25, TODAY - ago - 24);
  made_stage (&c->state, CORE_START_MOULTED, TODAY - ago - 13, TODAY - ago - 12);
  made_stage (&c->state, CORE_START_MOULTED, TODAY - ago - 1, TODAY - ago);
  made_moults (&c->state, 2, CORE_BASIS_COUNTED);
}
