/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile-keys.c — the table of keys that a profile may have, and what must fit together.
 *
 * One row a key; the ranges are those of anything alive that could be meant (ours), so that a
 * slipped digit or unit is refused rather than believed.
 */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "core/core-clock.h"
#include "core/core-entry.h"
#include "exchange/exch-profile-private.h"

#define AT(field) offsetof (CoreProfile, field)
#define TEXT(group, key, field, needed)                                                            \
  {                                                                                                \
    group, key, EXCH_KEY_TEXT, AT (field), 0, sizeof (((CoreProfile *) 0)->field), 0, 0, needed,   \
      FALSE                                                                                        \
  }
#define BOOL(group, key, field)                                                                    \
  {                                                                                                \
    group, key, EXCH_KEY_BOOL, AT (field), 0, 0, 0, 0, FALSE, FALSE                                \
  }
#define NUMBER(group, key, field, min, max)                                                        \
  {                                                                                                \
    group, key, EXCH_KEY_NUMBER, AT (field), 0, 0, min, max, FALSE, FALSE                          \
  }
#define WHOLE(group, key, field, min, max)                                                         \
  {                                                                                                \
    group, key, EXCH_KEY_INT, AT (field), 0, 0, min, max, FALSE, FALSE                             \
  }
#define TAGGED(group, key, field, min, max, lack)                                                  \
  {                                                                                                \
    group, key, EXCH_KEY_TAGGED, AT (field), 0, 0, min, max, FALSE, lack                           \
  }
#define SPAN(group, key, field, min, max)                                                          \
  {                                                                                                \
    group, key, EXCH_KEY_SPAN, AT (field), 0, 0, min, max, FALSE, FALSE                            \
  }
#define PAIR(group, key, lo, hi, min, max, lack)                                                   \
  {                                                                                                \
    group, key, EXCH_KEY_PAIR, AT (lo), AT (hi), 0, min, max, FALSE, lack                          \
  }

const ExchProfileKey exch_profile_keys[] = {
  TEXT ("profile", "scientific", scientific, TRUE),
  TEXT ("profile", "common", common, TRUE),
  TEXT ("profile", "common_de", common_de, FALSE),
  { "profile", "group", EXCH_KEY_GROUP, AT (group), 0, 0, 0, 0, TRUE, FALSE },
  BOOL ("profile", "general", general),
  BOOL ("profile", "empusid", empusid),
  BOOL ("profile", "parthenogenetic", parthenogenetic),
  BOOL ("profile", "communal", communal),
  BOOL ("profile", "flying_prey_only", flying_prey_only),
  BOOL ("profile", "damp_substrate", damp_substrate),
  BOOL ("profile", "dry_kind", dry_kind),
  BOOL ("profile", "winter_rest", winter_rest),
  { "profile", "avoid_prey", EXCH_KEY_PREY, AT (avoid_prey), 0, 0, 0, 0, FALSE, FALSE },

  TAGGED ("clock", "t0", clock.t0, 0, 24, FALSE),
  TAGGED ("clock", "topt", clock.topt, 20, 45, FALSE),
  TAGGED ("clock", "tflat", clock.tflat, 20, 48, FALSE),
  TAGGED ("clock", "tmax", clock.tmax, 26, 55, FALSE),

  { "development", "stage_days", EXCH_KEY_STAGES, AT (stage_days), 0, 0, 1, 200, FALSE, TRUE },
  TAGGED ("development", "before_subadult_days", last_days[0], 1, 300, TRUE),
  TAGGED ("development", "subadult_days", last_days[1], 1, 300, TRUE),
  NUMBER ("development", "male_factor", male_factor, 0.5, 2),
  { "development", "moults_male", EXCH_KEY_DIST, AT (n_moults[0]), 0, 0, 0, 1, FALSE, FALSE },
  { "development", "moults_female", EXCH_KEY_DIST, AT (n_moults[1]), 0, 0, 0, 1, FALSE, FALSE },
  NUMBER ("development", "sd_room", sd_rho, 0.01, 1),
  NUMBER ("development", "sd_lot", sd_lambda, 0.01, 1),
  NUMBER ("development", "sd_animal", sd_eta, 0.01, 1),
  NUMBER ("development", "sd_stage", sd_eps, 0.01, 1),

  TAGGED ("size", "adult_male_mm", adult_mm[0], 5, 250, TRUE),
  TAGGED ("size", "adult_female_mm", adult_mm[1], 5, 250, TRUE),
  TAGGED ("size", "hatchling_mm", hatchling_mm, 1, 30, TRUE),
  NUMBER ("size", "ratio_body", ratio_body, 1.05, 2),
  NUMBER ("size", "ratio_head", ratio_head, 1.05, 2),

  NUMBER ("sex", "male_prior", male_prior, 0.01, 0.99),
  WHOLE ("sex", "readable_from", readable_from, 0, CORE_MAX_MOULTS),
  TAGGED ("sex", "plates_male", plates[0], 4, 10, TRUE),
  TAGGED ("sex", "plates_female", plates[1], 4, 10, TRUE),
  TAGGED ("sex", "appendages_male", appendages[0], 4, 10, TRUE),
  TAGGED ("sex", "appendages_female", appendages[1], 4, 10, TRUE),
  BOOL ("sex", "count_doubtful", count_doubtful),
  { "sex", "tegmen_pronotum_male", EXCH_KEY_MEAN_SD, AT (tp_mean[0]), AT (tp_sd[0]), 0, 0.01, 6,
    FALSE, FALSE },
  { "sex", "tegmen_pronotum_female", EXCH_KEY_MEAN_SD, AT (tp_mean[1]), AT (tp_sd[1]), 0, 0.01, 6,
    FALSE, FALSE },

  SPAN ("care", "feed_m0_1", feed[CORE_CARE_M01], 1, 30),
  SPAN ("care", "feed_m2_3", feed[CORE_CARE_M23], 1, 30),
  SPAN ("care", "feed_m4", feed[CORE_CARE_M4], 1, 30),
  SPAN ("care", "feed_adult_female", feed[CORE_CARE_ADULT_F], 1, 30),
  SPAN ("care", "feed_adult_male", feed[CORE_CARE_ADULT_M], 1, 30),
  SPAN ("care", "feed_gravid", feed[CORE_CARE_GRAVID], 1, 30),
  SPAN ("care", "mist", mist, 1, 60),
  SPAN ("care", "clean", clean, 1, 60),
  TAGGED ("care", "touch_m3", touch_days[CORE_HARD_M3], 0, 30, FALSE),
  TAGGED ("care", "touch_m4", touch_days[CORE_HARD_M4], 0, 30, FALSE),
  TAGGED ("care", "touch_subadult", touch_days[CORE_HARD_SUBADULT], 0, 30, FALSE),
  TAGGED ("care", "touch_adult", touch_days[CORE_HARD_ADULT], 0, 30, FALSE),
  SPAN ("care", "food_m3", food_days[CORE_HARD_M3], 0, 30),
  SPAN ("care", "food_m4", food_days[CORE_HARD_M4], 0, 30),
  SPAN ("care", "food_subadult", food_days[CORE_HARD_SUBADULT], 0, 30),
  SPAN ("care", "food_adult", food_days[CORE_HARD_ADULT], 0, 30),
  NUMBER ("care", "subadult_fast_days", subadult_fast_days, 1, 40),
  WHOLE ("care", "split_moults", split_moults, -1, CORE_MAX_MOULTS),
  NUMBER ("care", "prey_nymph", prey_nymph, 0.05, 2),
  NUMBER ("care", "prey_adult", prey_adult, 0.05, 2),

  PAIR ("climate", "day", day_lo, day_hi, 5, 50, FALSE),
  PAIR ("climate", "night", night_lo, night_hi, 0, 45, FALSE),
  PAIR ("climate", "spot", spot_lo, spot_hi, 15, 60, TRUE),
  TAGGED ("climate", "look_above", look_above, 20, 60, FALSE),
  TAGGED ("climate", "look_below", look_below, -5, 30, FALSE),
  PAIR ("climate", "humidity", rh_lo, rh_hi, 0, 100, FALSE),

  SPAN ("eggs", "incubation", incubation, 5, 400),
  SPAN ("eggs", "young", young, 1, 1000),
  BOOL ("eggs", "guards", guards_eggs),
  BOOL ("eggs", "rest", eggs_rest),

  SPAN ("adult", "receptive_male", receptive[0], 1, 300),
  SPAN ("adult", "receptive_female", receptive[1], 1, 300),
  SPAN ("adult", "life_male", adult_life[0], 1, 1000),
  SPAN ("adult", "life_female", adult_life[1], 1, 1000),
};
const gsize exch_profile_n_keys = G_N_ELEMENTS (exch_profile_keys);

const char *const exch_cue_says[] = { "either", "male", "female", NULL };

/* Of each group [cue NAME]; read by read_cue(). */
const ExchProfileKey exch_cue_keys[EXCH_N_CUE_KEYS] = {
  { "cue", "says", EXCH_KEY_SAYS, 0, 0, 0, 0, 0, TRUE, FALSE },
  { "cue", "odds", EXCH_KEY_NUMBER, 0, 0, 0, 1, 1000, TRUE, FALSE },
  { "cue", "from_moults", EXCH_KEY_INT, 0, 0, 0, 0, CORE_MAX_MOULTS, TRUE, FALSE },
  { "cue", "adult_only", EXCH_KEY_BOOL, 0, 0, 0, 0, 0, FALSE, FALSE },
};

const ExchProfileKey *
exch_profile_key_find (const char *group, const char *key)
{
  for (gsize i = 0; g_str_has_prefix (group, "cue ") && i < EXCH_N_CUE_KEYS; i++)
    {
      if (strcmp (exch_cue_keys[i].key, key) == 0)
        return &exch_cue_keys[i];
    }
  for (gsize i = 0; i < exch_profile_n_keys; i++)
    {
      if (strcmp (exch_profile_keys[i].group, group) == 0 &&
          strcmp (exch_profile_keys[i].key, key) == 0)
        return &exch_profile_keys[i];
    }
  return NULL;
}

gboolean
exch_profile_group_known (const char *group)
{
  for (gsize i = 0; i < exch_profile_n_keys; i++)
    {
      if (strcmp (exch_profile_keys[i].group, group) == 0)
        return TRUE;
    }
  return strcmp (group, "sources") == 0 || g_str_has_prefix (group, "cue ");
}

/* Each sex has a chance of ending within the moults that the tables reach. */
static gboolean
moults_sum_to_one (const double *p)
{
  double sum = 0;

  for (int n = 0; n <= CORE_MAX_MOULTS; n++)
    sum += p[n];
  return fabs (sum - 1) < 1e-6;
}

/* The first that does not rise. */
static const char *
wrong_temperature (const CoreClock *clock)
{
  if (clock->t0 >= 25)
    return "t0";
  if (clock->topt <= clock->t0)
    return "topt";
  return clock->tflat < clock->topt ? "tflat" : "tmax";
}

gboolean
exch_profile_check (const CoreProfile *profile, const char **group, const char **key, char **why)
{
  CoreClock clock = { profile->clock.t0.v, profile->clock.topt.v, profile->clock.tflat.v,
                      profile->clock.tmax.v };

  *why = NULL;
  if (!core_clock_valid (&clock))
    {
      *group = "clock";
      *key = wrong_temperature (&clock);
      *why = g_strdup (C_ ("profile error", "The temperatures must rise: t0 below 25, t0 below "
                                            "topt, topt not above tflat, tflat below tmax"));
    }
  else if (!moults_sum_to_one (profile->n_moults[0]) || !moults_sum_to_one (profile->n_moults[1]))
    {
      *group = "development";
      *key = moults_sum_to_one (profile->n_moults[0]) ? "moults_female" : "moults_male";
      *why = g_strdup (C_ ("profile error", "The chances must add up to 1"));
    }
  else if (profile->look_below.v >= profile->look_above.v)
    {
      *group = "climate";
      *key = "look_below";
      *why = g_strdup (C_ ("profile error", "look_below must be under look_above"));
    }
  else if (profile->flying_prey_only && (profile->avoid_prey & (1u << CORE_PREY_HOUSE_FLY)) != 0 &&
           (profile->avoid_prey & (1u << CORE_PREY_HYDEI)) != 0)
    {
      *group = "profile";
      *key = "avoid_prey";
      *why = g_strdup (C_ ("profile error", "No prey would be left"));
    }
  return *why == NULL;
}
