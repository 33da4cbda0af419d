/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-profile-copy.c — a copy of a profile: what it changes, kept in parts, put together again; what
 * is typed; the keeper's own beside the shipped ones. */
#include <locale.h>
#include <math.h>
#include <string.h>

#include "exchange/exch-profile.h"

static ExchProfiles *
load (void)
{
  g_autoptr (GError) error = NULL;
  ExchProfiles *set = exch_profiles_load (&error);

  g_assert_no_error (error);
  return set;
}

static const char *
text_of (const ExchProfiles *set, const char *id)
{
  return exch_profiles_text (set, exch_profiles_by_id (set, id));
}

/* The copy through its parts, as a journal keeps it. */
static GKeyFile *
through_parts (GKeyFile *diff)
{
  GKeyFile *read = g_key_file_new ();

  for (const char *const *part = exch_doc_parts (); *part != NULL; part++)
    {
      g_autofree char *lines = exch_doc_part (diff, *part);

      g_assert_cmpuint (strlen (*part), <=, 12); /* fits the key of a setting */
      g_assert_true (exch_doc_add_part (read, *part, lines));
    }
  return read;
}

/* Every shipped file, against nothing and against itself. */
static void
test_round_trip (void)
{
  g_autoptr (ExchProfiles) set = load ();

  for (gsize i = 0; i < exch_profiles_count (set); i++)
    {
      const CoreProfile *p = exch_profiles_nth (set, i);
      g_autoptr (GKeyFile) doc = exch_doc_new (exch_profiles_text (set, p));
      g_autoptr (GKeyFile) none = exch_doc_diff (doc, doc);
      g_autoptr (GKeyFile) all = exch_doc_diff (doc, NULL);
      g_autoptr (GKeyFile) parts = through_parts (all);
      g_autoptr (GKeyFile) again = exch_doc_apply (NULL, parts);
      g_autofree char *text = exch_doc_text (again, "# head\n\n");
      g_autoptr (GError) error = NULL;
      CoreProfile q;

      g_assert_cmpuint (exch_doc_n_values (none), ==, 0);
      g_assert_cmpuint (exch_doc_n_values (all), >, 50);
      g_assert_true (exch_profile_parse ("again", text, strlen (text), &q, &error));
      g_assert_no_error (error);
      g_assert_cmpstr (q.scientific, ==, p->scientific);
      g_assert_cmpmem (q.n_moults, sizeof q.n_moults, p->n_moults, sizeof p->n_moults);
      g_assert_cmpuint (q.n_ours, ==, p->n_ours);
      g_assert_cmpuint (q.n_measured, ==, p->n_measured);
      g_assert_cmpuint (q.n_cues, ==, p->n_cues);
      g_assert_cmpfloat (q.feed[CORE_CARE_M4].b.v, ==, p->feed[CORE_CARE_M4].b.v);
      core_profile_clear (&q);
    }
}

static void
test_diff (void)
{
  g_autoptr (ExchProfiles) set = load ();
  g_autoptr (GKeyFile) shipped = exch_doc_new (text_of (set, "hymenopus-coronatus"));
  g_autoptr (GKeyFile) own = exch_doc_new (text_of (set, "hymenopus-coronatus"));
  g_autoptr (GKeyFile) diff = NULL;
  g_autoptr (GKeyFile) whole = NULL;
  g_autofree char *care = NULL;
  g_autofree char *cues = NULL;
  g_autofree char *text = NULL;
  CoreProfile p;

  g_key_file_set_value (own, "climate", "day", " 24.0 ; 29 "); /* the same, spaced otherwise */
  exch_doc_set_own (own, "care", "mist", "2;3");
  exch_doc_set_own (own, "cue brow", "from_moults", "5");
  diff = exch_doc_diff (own, shipped);
  g_assert_cmpuint (exch_doc_n_values (diff), ==, 2);
  care = exch_doc_part (diff, "care");
  cues = exch_doc_part (diff, "cues");
  g_assert_cmpstr (care, ==, "mist=2;3\nmist.from=own\n");
  g_assert_true (g_str_has_prefix (cues, "brow/from_moults=5\nbrow/from_moults.from=own\n"));
  g_assert_nonnull (strstr (cues, "brow/from_moults.other=3\n")); /* the disagreement stays */
  whole = exch_doc_apply (shipped, diff);
  text = exch_doc_text (whole, NULL);
  g_assert_true (exch_profile_parse ("own", text, strlen (text), &p, NULL));
  g_assert_cmpfloat (p.mist.a.v, ==, 2);
  g_assert_cmpint (p.mist.a.tag, ==, CORE_TAG_OWN);
  g_assert_cmpint (p.cues[1].from_moults, ==, 5);
  g_assert_cmpuint (p.n_own, ==, 3); /* both ends of a span, and one */
  core_profile_clear (&p);
}

/* Sources go with the values that name them, and never take the name of a shipped one. */
static void
test_sources (void)
{
  g_autoptr (ExchProfiles) set = load ();
  g_autoptr (GKeyFile) shipped = exch_doc_new (text_of (set, "tenodera-sinensis"));
  g_autoptr (GKeyFile) own = exch_doc_new (text_of (set, "tenodera-sinensis"));
  g_autoptr (GKeyFile) diff = NULL;
  g_autofree char *sources = NULL;
  g_autofree char *size = NULL;

  g_key_file_set_value (own, "sources", "moon", "another moon");
  g_key_file_set_value (own, "sources", "unused", "nobody names it");
  g_key_file_set_value (own, "size", "adult_male_mm", "78");
  g_key_file_set_value (own, "size", "adult_male_mm.from", "measured:moon");
  diff = exch_doc_diff (own, shipped);
  sources = exch_doc_part (diff, "sources");
  size = exch_doc_part (diff, "size");
  g_assert_cmpstr (sources, ==, "moon-2=another moon\n");
  g_assert_cmpstr (size, ==, "adult_male_mm=78\nadult_male_mm.from=measured:moon-2\n");
}

static void
test_bad_parts (void)
{
  static const struct
  {
    const char *part, *lines;
  } rows[] = {
    { "care", "mist" }, { "care", "=3" },        { "care", "[profile]=3" },  { "care", "mi st=3" },
    { "cues", "odds=3" }, { "cues", "odds=a/b" }, { "cues", "crown/[x]=3" }, { "cues", "crown/=3" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GKeyFile) doc = g_key_file_new ();

      g_test_message ("%s: %s", rows[i].part, rows[i].lines);
      g_assert_false (exch_doc_add_part (doc, rows[i].part, rows[i].lines));
    }
}

/* ---- what is typed ---- */

static const ExchValue *
value_of (GPtrArray *values, const char *key)
{
  for (guint i = 0; i < values->len; i++)
    if (g_str_equal (((ExchValue *) values->pdata[i])->key, key))
      return values->pdata[i];
  g_assert_not_reached ();
}

static void
test_typed (void)
{
  static const struct
  {
    const char *key, *typed, *stored, *refused; /* part of the reason; NULL = it fits */
  } rows[] = {
    { "mist", "1–2", "1;2", NULL },
    { "mist", " 1 - 2 ", "1;2", NULL },
    { "mist", "1,5 – 2,5", "1.5;2.5", NULL },
    { "mist", "3", "3", "Two values" },
    { "mist", "5-2", "5;2", "not be above" },
    { "mist", "0-2", "0;2", "from 1 to 60" },
    { "mist", "soon", "soon", "not a number" },
    { "spot", "- -", "-;-", NULL },
    { "look_below", "-2", "-2", NULL },
    { "look_below", "40", "40", "from -5 to 30" },
    { "look_above", "20", "20", NULL },
    { "look_above", "1e400", "1e400", "not a number" },
    { "look_above", "nan", "nan", "not a number" },
    { "adult_male_mm", "31,5", "31.5", NULL },
    { "adult_male_mm", "", "-", NULL },
    { "stage_days", "12 12, 14; 16,5", "12;12;14;16.5", NULL },
    { "stage_days", "12;-;14", "12;-;14", NULL },
    { "stage_days", "12; –; 14,5", "12;-;14.5", NULL },
    { "spot", "–", "-", "Two values" },
    { "tegmen_pronotum_male", "2,6 ± 0,2", "2.6;0.2", NULL },
    { "moults_male", "5: 70 %, 6: 30 %", "5:0.7;6:0.3", NULL },
    { "moults_male", "5: 70 %, 6: 20 %", "5:0.7;6:0.2", "add up to 1" },
    { "moults_male", "5:.7;6:.3", "5:.7;6:.3", NULL },
    { "readable_from", "2.5", "2.5", "whole number" },
    { "split_moults", "-1", "-1", NULL },
    { "topt", "31", "31", "must rise" },
    { "communal", "maybe", "maybe", "true or false" },
    { "common", "a\nb", "a\nb", "backslash" },
    { "common", "", "", "empty" },
  };
  g_autoptr (ExchProfiles) set = load ();
  const char *text = text_of (set, "hymenopus-coronatus");
  g_autoptr (GPtrArray) values =
    exch_profile_values (exch_profiles_by_id (set, "hymenopus-coronatus"), text);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const ExchValue *value = value_of (values, rows[i].key);
      g_autofree char *stored = exch_value_from_typed (value, rows[i].typed);
      g_autofree char *why = exch_profile_try (text, value->group, value->key, stored);

      g_test_message ("%s = %s", rows[i].key, rows[i].typed);
      g_assert_cmpstr (stored, ==, rows[i].stored);
      if (rows[i].refused == NULL)
        g_assert_cmpstr (why, ==, NULL);
      else
        g_assert_nonnull (strstr (why, rows[i].refused));
    }
}

/* What a file leaves out is shown as the table of its group has it. */
static void
test_left_out (void)
{
  static const char text[] =
    "[profile]\nscientific=Exemplum fictum\ncommon=x\ngroup=dry-hot\n[care]\nmist=4;6\nmist.from=own\n";
  CoreProfile p;
  g_autoptr (GPtrArray) values = NULL;

  g_assert_true (exch_profile_parse ("x", text, strlen (text), &p, NULL));
  values = exch_profile_values (&p, text);
  g_assert_true (value_of (values, "mist")->stands);
  g_assert_false (value_of (values, "day")->stands);
  g_assert_cmpstr (value_of (values, "day")->value, ==, "26;30");
  g_assert_cmpstr (value_of (values, "feed_m4")->value, ==, "2;3");
  g_assert_cmpstr (value_of (values, "flying_prey_only")->value, ==, "true");
  g_assert_cmpstr (value_of (values, "adult_male_mm")->value, ==, "-");
  g_assert_cmpstr (value_of (values, "stage_days")->value, ==, "-");
  g_assert_true (g_str_has_prefix (value_of (values, "moults_male")->value, "5:0.15;6:0.4"));
  core_profile_clear (&p);
}

/* ---- beside the shipped ones ---- */

static void
test_with (void)
{
  static const char own[] = "[profile]\nscientific=Exemplum fictum\ncommon=made up\ngroup=hardy\n";
  static const char general[] =
    "[profile]\nscientific=Exemplum secundum\ncommon=x\ngroup=hardy\ngeneral=true\n";
  static const char bad[] = "[profile]\nscientific=Exemplum\n";
  g_autoptr (ExchProfiles) shipped = load ();
  g_autoptr (GKeyFile) doc = exch_doc_new (text_of (shipped, "hierodula-membranacea"));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) why = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (ExchProfiles) set = NULL;
  const CoreProfile *p;

  exch_doc_set_own (doc, "care", "mist", "9;9");
  g_ptr_array_add (texts, exch_doc_text (doc, NULL));
  g_ptr_array_add (texts, g_strdup (own));
  g_ptr_array_add (texts, g_strdup (general));
  g_ptr_array_add (texts, g_strdup (bad));
  set = exch_profiles_with (shipped, texts, why);
  g_assert_cmpuint (why->len, ==, 4);
  g_assert_null (why->pdata[0]);
  g_assert_null (why->pdata[1]);
  g_assert_nonnull (strstr (why->pdata[2], "general=true"));
  g_assert_nonnull (why->pdata[3]);
  g_assert_cmpuint (exch_profiles_count (set), ==, exch_profiles_count (shipped) + 1);
  p = exch_profiles_for_species (set, "Hierodula membranacea");
  g_assert_cmpfloat (p->mist.a.v, ==, 9);
  g_assert_cmpstr (p->id, ==, "hierodula-membranacea");
  g_assert_cmpfloat (exch_profiles_by_id (shipped, p->id)->mist.a.v, ==, 2);
  g_assert_cmpstr (exch_profiles_for_species (set, "Exemplum fictum")->common, ==, "made up");
  /* the others are the very same: who compares pointers sees what changed */
  g_assert_true (exch_profiles_by_id (set, "tenodera-sinensis") ==
                 exch_profiles_by_id (shipped, "tenodera-sinensis"));
  g_assert_true (exch_profiles_general (set) == exch_profiles_general (shipped));
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exchange/copy/round-trip", test_round_trip);
  g_test_add_func ("/exchange/copy/diff", test_diff);
  g_test_add_func ("/exchange/copy/sources", test_sources);
  g_test_add_func ("/exchange/copy/bad-parts", test_bad_parts);
  g_test_add_func ("/exchange/copy/typed", test_typed);
  g_test_add_func ("/exchange/copy/left-out", test_left_out);
  g_test_add_func ("/exchange/copy/with", test_with);
  return g_test_run ();
}
