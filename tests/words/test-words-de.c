/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-words-de.c — German through the catalogue of the build; numbers with a comma where the
 * system can make such a locale; English unchanged by either. */
#include <glib/gstdio.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "core/core-reason-ids.h"
#include "words-test.h"

static WordsView local = { WORDS_LOCAL, 0, 1 };
static WordsView english = { WORDS_ENGLISH, 0, 1 };

static void
test_days (void)
{
  wt_says (words_day (&local, wt_day ("2026-11-24"), WORDS_DAY_FULL), "Di 24. November");
  wt_says (words_day (&local, wt_day ("2026-09-03"), WORDS_DAY_SHORT), "3. Sep.");
  wt_says (words_day (&local, wt_day ("2026-11-24"), WORDS_DAY_NEAR), "gestern");
  wt_says (words_day (&local, wt_day ("2026-11-21"), WORDS_DAY_NEAR), "Samstag");
  wt_says (words_day_range (&local, wt_day ("2026-12-03"), wt_day ("2026-12-09")),
           "3.–9. Dezember");
  wt_says (words_day_range (&local, wt_day ("2026-11-28"), wt_day ("2026-12-03")),
           "28. Nov. – 3. Dez.");
  wt_says (words_day (&english, wt_day ("2026-11-24"), WORDS_DAY_FULL), "Tue 24 November");
}

static void
test_plurals (void)
{
  wt_says (words_days (WORDS_LOCAL, 1), "1 Tag");
  wt_says (words_days (WORDS_LOCAL, 4), "4 Tage");
  wt_says (words_days (WORDS_ENGLISH, 4), "4 days");
  wt_says (words_round_wrote (WORDS_LOCAL, 1), "1 Eintrag geschrieben.");
  wt_says (words_round_wrote (WORDS_LOCAL, 12), "12 Einträge geschrieben.");
}

static void
test_sentences (void)
{
  CoreForecast f = { .why = CORE_NO_FORECAST_NONE,
                     .p10 = wt_day ("2026-12-03"),
                     .p90 = wt_day ("2026-12-09") };
  CoreSexVerdict v = { .male = .06, .female = .94, .verdict = CORE_VERDICT_LIKELY_FEMALE };
  CoreMeal meal = { .day = wt_day ("2026-11-21"),
                    .prey = CORE_PREY_MOTH,
                    .outcome = CORE_FED_TAKEN };
  CoreReason r = wt_reason ("feed.interval", CORE_UNIT_DAYS, 3, 4);
  CoreHold hold = { .kind = CORE_HOLD_AFTER, .until = wt_today () + 2 };
  CoreEntry *fed = wt_entry (CORE_KIND_FED, "prey=house fly", "n=2", NULL);
  CoreState s;

  core_state_init (&s);
  s.moults = 4;
  strcpy (s.species, "Hierodula membranacea");
  s.basis = CORE_BASIS_COUNTED;
  s.meals.v = &meal;
  s.meals.n = 1;
  s.last_taken = meal.day;
  wt_says (words_animal (&local, &s, &v, &f, NULL),
           "Fünftes Stadium, wohl weiblich, fressen gesehen Samstag, nächste Häutung etwa 3.–9. "
           "Dezember.");
  wt_says (words_sex (WORDS_LOCAL, &v), "wohl weiblich, 94 von 100");
  wt_says (words_reason (&local, &r), "Gefüttert vor 4 Tagen; alle 3–4 Tage in diesem Stadium.");
  wt_says (words_reason (&english, &r), "Fed 4 days ago; every 3–4 days at this stage.");
  wt_says (words_hold (&local, &hold), "in Ruhe lassen; frei ab Sa");
  wt_says (words_change (&local, FALSE, "14", NULL, fed, 13),
           "Zurückgenommen: 14 gefüttert: 2 Stubenfliegen und 12 weitere.");
  fed->bulk = true;
  wt_says (words_change (&local, FALSE, "14", NULL, fed, 13),
           "Runde zurückgenommen: 14 gefüttert: 2 Stubenfliegen und 12 weitere.");
  s.meals.v = NULL;
  s.meals.n = 0;
  core_state_clear (&s);
  core_entry_free (fed);
}

/* The timeline says what is stored in words of the language. */
static void
test_settings (void)
{
  static const struct
  {
    const char *key, *value, *says;
  } rows[] = {
    { "key=purpose", "value=pairing", "gehalten für: Verpaarung" },
    { "key=purpose", "value=sale", "gehalten für: Verkauf" },
    { "key=sex_check", "value=not_needed", "Geschlechtsprüfung: nicht nötig" },
    { "key=gravid", "value=yes", "trägt Eier: ja" },
    { "key=caution.heat", "value=off", "Vorsicht, Wärme: ausgeschaltet" },
    { "key=day_c", "value=24", "übliche Tagestemperatur, °C: 24" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CoreEntry *entry = wt_entry (CORE_KIND_SET, rows[i].key, rows[i].value, NULL);
      WordsEntry what = { .entry = entry };

      wt_says (words_entry (&local, &what), rows[i].says);
      core_entry_free (entry);
    }
}

/* No placeholder is lost or left over in any reason. */
static void
test_every_reason (void)
{
  for (int i = 0; i < CORE_N_PLAN_REASONS; i++)
    {
      const char *id = core_plan_reason_id ((CorePlanReason) i);
      CoreReason reason = wt_reason (id, CORE_UNIT_DAYS, 3, 4);
      g_autofree char *german = words_reason (&local, &reason);
      g_autofree char *plain = words_reason (&english, &reason);

      g_assert_null (strchr (german, '{'));
      g_assert_true (g_str_has_suffix (german, ".") || g_str_has_suffix (german, "?"));
      g_assert_cmpstr (german, !=, plain);
    }
}

static const CoreRoundTerm *
find_term (const CoreRoundTerm *terms, gsize n, const char *text)
{
  for (gsize i = 0; i < n; i++)
    {
      if (strcmp (terms[i].text, text) == 0)
        return &terms[i];
    }
  return NULL;
}

/* German beside English, English never lost. */
static void
test_vocabulary (void)
{
  gsize n_local, n_english;
  const CoreRoundTerm *terms = words_round_terms (WORDS_LOCAL, &n_local);
  const CoreRoundTerm *plain = words_round_terms (WORDS_ENGLISH, &n_english);

  g_assert_cmpuint (n_local, >, n_english);
  for (gsize i = 0; i < n_english; i++)
    {
      const CoreRoundTerm *same = find_term (terms, n_local, plain[i].text);

      g_assert_nonnull (same);
      g_assert_cmpint (same->word, ==, plain[i].word);
      g_assert_cmpint (same->code, ==, plain[i].code);
    }
  g_assert_cmpint (find_term (terms, n_local, "stubenfliegen")->code, ==, CORE_PREY_HOUSE_FLY);
  g_assert_cmpint (find_term (terms, n_local, "verweigert")->word, ==, CORE_WORD_REFUSED);
  g_assert_cmpint (find_term (terms, n_local, "alle")->word, ==, CORE_WORD_ALL);
  g_assert_cmpint (find_term (terms, n_local, "abgelehnt")->word, ==, CORE_WORD_REFUSED);
  g_assert_cmpint (find_term (terms, n_local, "außer")->word, ==, CORE_WORD_EXCEPT);
  g_assert_cmpint (find_term (terms, n_local, "ausser")->word, ==, CORE_WORD_EXCEPT); /* no sharp s on the keyboard */
  g_assert_null (find_term (terms, n_local, "fruchtfliegen"));
  for (int word = CORE_WORD_ALL; word < CORE_WORD_SPECIES; word++)
    {
      gsize in_english = 0, in_german = 0;

      for (gsize i = 0; i < n_local; i++)
        {
          in_english += terms[i].word == (CoreRoundWord) word && i < n_english ? 1 : 0;
          in_german += terms[i].word == (CoreRoundWord) word && i >= n_english ? 1 : 0;
        }
      g_test_message ("word %d", word);
      g_assert_cmpuint (in_english, >, 0);
      g_assert_cmpuint (in_german, >, 0);
    }
}

static void
test_lines (void)
{
  wt_says (wt_round ("alle gefüttert 2 Stubenfliegen, außer 14 31 verweigert", WORDS_LOCAL),
           "all; Fed 2 house flies: 3 cups; 14: refused; 31: refused");
  wt_says (wt_round ("GESPRÜHT; 33 gehäutet", WORDS_LOCAL), "all; Sprayed: 3 cups; 33: moulted");
  wt_says (wt_round ("all fed 2 house flies, except 14 refused", WORDS_LOCAL),
           "all; Fed 2 house flies: 3 cups; 14: refused");
  wt_says (wt_round ("14 fraß 2 Schmeißfliegen; 31 tot", WORDS_LOCAL),
           "all; 14: seen eating, 2 blue bottles; 31: died");
  wt_says (wt_round ("14 verweigert Falter, 31 gefüttert 1 Motte", WORDS_LOCAL),
           "all; 14: refused, moths; 31: fed 1 moth");
  wt_says (wt_round ("14 gestern gehäutet", WORDS_LOCAL), "all; 14: moulted");
  wt_says (wt_round ("14 am Sonntag gehäutet gestürzt adult; 31 verkauft", WORDS_LOCAL),
           "all; 14: moulted and fell, now adult; 31: left: sold");
  wt_says (wt_round ("tausche 14 31", WORDS_LOCAL),
           "all; 14: changes places with 31; 31: changes places with 14");
  wt_says (wt_round ("swap 14 31", WORDS_LOCAL),
           "all; 14: changes places with 31; 31: changes places with 14");
  wt_says (wt_round ("14 verweigert mi", WORDS_LOCAL), "problem 15"); /* a Wednesday: which? */
  wt_says (wt_round ("14 scheint tot", WORDS_LOCAL), "all; 14: looks dead");
  /* A beginning of two words: it stays what it was alone, with a prey it is asked. */
  wt_says (wt_round ("14 gef", WORDS_LOCAL), "all; 14: seen eating");
  wt_says (wt_round ("14 gef 2 Falter", WORDS_LOCAL), "problem 3, gefüttert, gefressen");
}

static void
test_line_said (void)
{
  wt_round_read_back (WORDS_LOCAL);
  wt_says (wt_round_line ("fed 2 house flies, misted; 14 31 refused; 33 moulted fell", WORDS_LOCAL),
           "gefüttert 2 Stubenfliegen, gesprüht; 14 31 verweigert; 33 gehäutet gestürzt");
}

static gboolean
make_comma_locale (const char *dir)
{
  g_autofree char *path = g_build_filename (dir, "de_DE.UTF-8", NULL);
  const char *argv[] = { "localedef", "-i", "de_DE", "-f", "UTF-8", path, NULL };
  int status = -1;

  if (!g_spawn_sync (NULL, (char **) argv, NULL,
                     G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL,
                     NULL, NULL, NULL, NULL, &status, NULL) ||
      !g_spawn_check_wait_status (status, NULL))
    return FALSE;
  g_setenv ("LOCPATH", dir, TRUE);
  return setlocale (LC_ALL, "de_DE.UTF-8") != NULL &&
         strcmp (localeconv ()->decimal_point, ",") == 0;
}

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *child = g_build_filename (path, name, NULL);

      remove_tree (child);
    }
  g_assert_cmpint (g_remove (path), ==, 0);
}

static void
test_comma (void)
{
  g_autofree char *dir = g_dir_make_tmp ("locale-XXXXXX", NULL);
  CoreReason r = wt_reason ("mist.hot", CORE_UNIT_CELSIUS, 31.5, 30);

  if (make_comma_locale (dir))
    {
      wt_says (words_number (WORDS_LOCAL, 2.5, 2), "2,5");
      wt_says (words_number (WORDS_ENGLISH, 2.5, 2), "2.5");
      wt_says (words_days (WORDS_LOCAL, 1.5), "1,5 Tage");
      wt_says (words_reason (&local, &r),
               "Es war 31,5 °C warm Samstag, über 30 °C: öfter sprühen.");
      wt_says (words_reason (&english, &r),
               "It was 31.5 °C warm Saturday, above 30 °C: spray more often.");
      setlocale (LC_ALL, "C.UTF-8");
    }
  else
    g_test_skip ("localedef cannot make de_DE.UTF-8 here");
  remove_tree (dir);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  words_init (NULL);
  local.today = english.today = wt_today ();
  g_test_add_func ("/words-de/days", test_days);
  g_test_add_func ("/words-de/plurals", test_plurals);
  g_test_add_func ("/words-de/sentences", test_sentences);
  g_test_add_func ("/words-de/settings", test_settings);
  g_test_add_func ("/words-de/every-reason", test_every_reason);
  g_test_add_func ("/words-de/vocabulary", test_vocabulary);
  g_test_add_func ("/words-de/lines", test_lines);
  g_test_add_func ("/words-de/line-said", test_line_said);
  g_test_add_func ("/words-de/comma", test_comma);
  return g_test_run ();
}
