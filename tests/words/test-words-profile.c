/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-words-profile.c — values of a species profile in words, and own values of a kind in the history. */
#include "words-test.h"

#include "words/words-profile.h"

static void
test_values (void)
{
  static const struct
  {
    const char *group, *key, *value, *says, *typed;
  } rows[] = {
    { "care", "mist", "1;2", "1–2 days", "1–2" },
    { "care", "touch_m3", "1", "1 day", "1" },
    { "care", "touch_adult", "7", "7 days", "7" },
    { "care", "split_moults", "-1", "no need", "-1" },
    { "care", "split_moults", "1", "1 moult", "1" },
    { "care", "prey_adult", ".67", "0.67 ×", "0.67" },
    { "climate", "day", "24;29", "24–29 °C", "24–29" },
    { "climate", "spot", "-;-", "none", "-;-" },
    { "climate", "humidity", "60;80", "60–80 %", "60–80" },
    { "size", "adult_male_mm", "-", "unknown", "-" },
    { "size", "adult_male_mm", "51.5", "51.5 mm", "51.5" },
    { "sex", "tegmen_pronotum_male", "2.55;.20", "2.55 ± 0.2", "2.55 ± 0.2" },
    { "sex", "readable_from", "3", "3 moults", "3" },
    { "development", "stage_days", "9;-;11.5", "9 · – · 11.5 days", "9; –; 11.5" },
    { "development", "subadult_days", "-", "taken from the general ladder", "-" },
    { "development", "moults_male", "5:.25;6:.75", "5: 25 %, 6: 75 %", "5: 25 %, 6: 75 %" },
    { "profile", "group", "dry-hot", "dry and hot", "dry-hot" },
    { "profile", "communal", "true", "yes", "true" },
    { "profile", "avoid_prey", "cricket;roach", "crickets, roaches", "cricket;roach" },
    { "profile", "avoid_prey", "", "none", "" },
    { "cue crown", "says", "either", "what was seen says it", "either" },
    { "cue crown", "odds", "4", "4", "4" },
    { "profile", "common", "ghost mantis", "ghost mantis", "ghost mantis" },
    { "care", "not_a_key", "1;2", "1;2", "1;2" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_test_message ("%s = %s", rows[i].key, rows[i].value);
      wt_says (words_profile_value (WORDS_ENGLISH, rows[i].group, rows[i].key, rows[i].value),
               rows[i].says);
      wt_says (words_profile_typed (WORDS_ENGLISH, rows[i].group, rows[i].key, rows[i].value),
               rows[i].typed);
    }
}

static void
test_from (void)
{
  static const char *const ids[] = { "faber", "moon", NULL };

  wt_says (words_profile_from (WORDS_ENGLISH, "practice", ids), "common practice");
  wt_says (words_profile_from (WORDS_ENGLISH, "practice;practice;ours", ids), "common practice, ours");
  wt_says (words_profile_from (WORDS_ENGLISH, "measured:moon", ids), "measured [2]");
  wt_says (words_profile_from (WORDS_ENGLISH, "measured:gone", ids), "measured");
  wt_says (words_profile_from (WORDS_ENGLISH, "own", ids), "own value");
  wt_says (words_profile_from (WORDS_ENGLISH, "", ids), "");
}

static void
test_names (void)
{
  wt_says (words_profile_group (WORDS_ENGLISH, "climate"), "Climate");
  wt_says (words_profile_group (WORDS_ENGLISH, "cue leg-lobes"), "Sign of the sex: leg lobes");
  wt_says (words_profile_group (WORDS_ENGLISH, "cue horn"), "Sign of the sex: horn");
  wt_says (words_profile_hint (WORDS_ENGLISH, "care", "mist", 1, 60),
           "Two numbers, such as 2–3, from 1 to 60 days");
  wt_says (words_profile_hint (WORDS_ENGLISH, "sex", "male_prior", .01, .99), "From 0.01 to 0.99");
  g_assert_cmpstr (words_profile_label (WORDS_ENGLISH, "cue crown", "from_moults"), ==, "To be seen after");
}

/* What the journal keeps of a copy reads as a fact of its history. */
static void
test_history (void)
{
  WordsView view = { .lang = WORDS_ENGLISH, .scheme = 1, .today = wt_today () };

  wt_says (words_setting (WORDS_ENGLISH, "kind.abc123.care"), "own values of a kind");
  wt_says (words_setting_value (&view, "kind.abc123.care",
                                "Mantis religiosa\\-\\mist=2;3\\mist.from=own\\clean=9;9\\clean.from=own\\"),
           "Mantis religiosa, Care: 2 values");
  wt_says (words_setting_value (&view, "kind.abc123.cues", "Mantis religiosa\\-\\crown/odds=2\\crown/odds.from=own\\"),
           "Mantis religiosa, Signs of the sex: 1 value");
  wt_says (words_setting_value (&view, "kind.abc123.care", "Mantis religiosa\\-\\"),
           "Mantis religiosa, Care: as shipped");
  wt_says (words_setting_value (&view, "kind.abc123.care", "x"), "x, Care: as shipped");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  words_init (NULL);
  g_test_add_func ("/words/profile/values", test_values);
  g_test_add_func ("/words/profile/from", test_from);
  g_test_add_func ("/words/profile/names", test_names);
  g_test_add_func ("/words/profile/history", test_history);
  return g_test_run ();
}
