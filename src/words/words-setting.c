/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-setting.c — details of a subject and settings of the journal, and their values: what is stored
 * as a word of the program is said as people say it. */
#include <string.h>

#include "words/words-private.h"
#include "words/words-profile.h"

typedef struct
{
  const char *key;
  WordsTerm term;
} Named;

static const Named details[] = {
  { "species", TERM ("detail", "species") },
  { "number", TERM ("detail", "number") },
  { "name", TERM ("detail", "name") },
  { "code", TERM ("detail", "code") },
  { "lot", TERM ("detail", "lot") },
  { "within", TERM ("detail", "stands in") },
  { "purpose", TERM ("detail", "kept for") },
  { "scheme", TERM ("detail", "L-number of the hatchling") },
  { "ahead", TERM ("detail", "had moulted before the others of its lot") },
  { "gravid", TERM ("detail", "carries eggs") },
  { "rest", TERM ("detail", "winter rest") },
  { "sex_check", TERM ("detail", "sex check") },
  { "day_c", TERM ("detail", "usual day temperature, °C") },
  { "night_c", TERM ("detail", "usual night temperature, °C") },
  { "light_h", TERM ("detail", "hours of light") },
  { "height_mm", TERM ("detail", "inner height, mm") },
  { "width_mm", TERM ("detail", "inner width, mm") },
  { "depth_mm", TERM ("detail", "inner depth, mm") },
  { "heater", TERM ("detail", "heater") },
  { "substrate", TERM ("detail", "substrate") },
  { "ventilation", TERM ("detail", "ventilation") },
  { "lid", TERM ("detail", "lid") },
  { "eggcase", TERM ("detail", "from egg case") },
  { "series", TERM ("detail", "number among hers") },
  { "origin", TERM ("detail", "origin") },
  { "locality", TERM ("detail", "locality") },
  { "species_sure", TERM ("detail", "species name") },
  { "mother", TERM ("detail", "mother") },
  { "father", TERM ("detail", "father") },
  { "line", TERM ("detail", "line") },
  { "generation", TERM ("detail", "generation as told") },
};

static const char *
after (const char *key, const char *prefix)
{
  return g_str_has_prefix (key, prefix) ? key + strlen (prefix) : NULL;
}

static const char *
caution_title (WordsLang lang, const char *id)
{
  for (int i = 0; i < WORDS_N_CAUTIONS; i++)
    if (strcmp (words_caution_id ((WordsCaution) i), id) == 0)
      return words_caution (lang, (WordsCaution) i).title;
  return id;
}

char *
words_setting (WordsLang lang, const char *key)
{
  const char *caution = after (key, "caution.");
  const char *task = after (key, "interval.");

  if (after (key, "kind.") != NULL)
    return g_strdup (T_ (lang, "detail", "own values of a kind"));
  if (caution != NULL)
    /* Translators: a setting; %s is the title of a caution */
    return g_strdup_printf (T_ (lang, "detail", "caution %s"), caution_title (lang, caution));
  if (task != NULL && core_task_from_name (task) != CORE_N_TASKS)
    /* Translators: a setting; %s is a task, such as "feed" */
    return g_strdup_printf (T_ (lang, "detail", "own interval, %s"),
                            words_task_kind (lang, core_task_from_name (task)));
  for (gsize i = 0; i < G_N_ELEMENTS (details); i++)
    if (strcmp (details[i].key, key) == 0)
      return g_strdup (T_ (lang, details[i].term.context, details[i].term.text));
  return g_strdup (key);
}

/* ---- values ---- */

/* Words that the program stores; those of other keys are the keeper's own. */
static const struct
{
  const char *key, *value;
  WordsTerm term;
} stored[] = {
  { "origin", "wild_caught", TERM ("origin", "caught in the wild") },
  { "origin", "captive_bred", TERM ("origin", "bred in captivity") },
  { "origin", "captive_hatched", TERM ("origin", "hatched in captivity from a wild egg case") },
  { "origin", "unknown", TERM ("origin", "origin unknown") },
  { "species_sure", "sure", TERM ("certainty", "sure") },
  { "species_sure", "likely", TERM ("certainty", "likely") },
  { "species_sure", "doubtful", TERM ("certainty", "doubtful") },
  { "ventilation", "closed", TERM ("ventilation", "closed") },
  { "ventilation", "lid", TERM ("ventilation", "through the lid") },
  { "ventilation", "side", TERM ("ventilation", "from one side") },
  { "ventilation", "chimney", TERM ("ventilation", "low on one side, high on the other") },
  { "ventilation", "mesh", TERM ("ventilation", "mesh all round") },
  { "lid", "cloth", TERM ("lid", "cloth") },
  { "lid", "mesh", TERM ("lid", "mesh") },
  { "lid", "plastic", TERM ("lid", "plastic") },
  { "lid", "glass", TERM ("lid", "glass") },
  { "lid", "metal", TERM ("lid", "perforated metal") },
  { "lid", "none", TERM ("lid", "none") },
  { "purpose", "none", TERM ("purpose", "nothing special") },
  { "purpose", "pairing", TERM ("purpose", "pairing") },
  { "purpose", "sale", TERM ("purpose", "sale") },
  { "purpose", "rearing", TERM ("purpose", "rearing") },
  { "purpose", "eggs", TERM ("purpose", "egg cases") },
  { "purpose", "quarantine", TERM ("purpose", "quarantine") },
  { "purpose", "feeders", TERM ("purpose", "feeder insects") },
  { "ahead", "yes", TERM ("code", "yes") },
  { "ahead", "no", TERM ("code", "no") },
  { "gravid", "yes", TERM ("code", "yes") },
  { "gravid", "no", TERM ("code", "no") },
  { "rest", "yes", TERM ("code", "yes") },
  { "rest", "no", TERM ("code", "no") },
  { "sex_check", "none", TERM ("setting", "as usual") },
  { "sex_check", "not_needed", TERM ("setting", "not needed") },
  { "demo", "yes", TERM ("setting", "yes") },
  { "demo", "no", TERM ("setting", "no") },
  { "caution.", "on", TERM ("setting", "shown") },
  { "caution.", "off", TERM ("setting", "switched off") },
};

/* As typed: "3" is three days, "3-5" a span. */
static char *
days (const WordsView *view, const char *value)
{
  double a, b;
  g_autofree char *lo = NULL;
  g_autofree char *hi = NULL;

  if (!core_interval_parse (value, &a, &b))
    return g_strdup (value);
  if (strchr (value, '-') == NULL)
    return words_days (view->lang, a);
  lo = words_number (view->lang, a, 1);
  hi = words_days (view->lang, b);
  /* Translators: a span of days: "3–5 days"; the second already says "days" */
  return g_strdup_printf (T_ (view->lang, "setting", "%s–%s"), lo, hi);
}

/* The species, a hash, then a line for each value and what stands beside it, with a backslash
 * between them. */
static char *
kind_values (const WordsView *view, const char *key, const char *value)
{
  g_auto (GStrv) lines = g_strsplit (value, "\\", -1);
  const char *part = strrchr (key, '.') + 1;
  g_autofree char *group = words_profile_group (view->lang, part);
  guint n = 0;

  for (guint i = 2; g_strv_length (lines) > 2 && lines[i] != NULL; i++)
    {
      gsize name = strcspn (lines[i], "=");

      if (lines[i][0] != '\0' && memchr (lines[i], '.', name) == NULL)
        n++;
    }
  if (n == 0)
    /* Translators: a species, a part of its profile: "Mantis religiosa, Care: as shipped" */
    return g_strdup_printf (T_ (view->lang, "setting", "%s, %s: as shipped"), lines[0], group);
  return g_strdup_printf (
    TN_ (view->lang, "setting", "%s, %s: %u value", "%s, %s: %u values", (gulong) n), lines[0],
    group, n);
}

static gboolean
is_measure (const char *key)
{
  return g_str_has_suffix (key, "_c") || g_str_has_suffix (key, "_mm") ||
         g_str_has_suffix (key, "_h");
}

char *
words_setting_value (const WordsView *view, const char *key, const char *value)
{
  gboolean caution = after (key, "caution.") != NULL;
  double number;

  if (*value == '\0')
    return g_strdup (T_ (view->lang, "setting", "not said"));
  if (after (key, "kind.") != NULL)
    return kind_values (view, key, value);
  for (gsize i = 0; i < G_N_ELEMENTS (stored); i++)
    if (strcmp (stored[i].value, value) == 0 &&
        strcmp (stored[i].key, caution ? "caution." : key) == 0)
      return g_strdup (T_ (view->lang, stored[i].term.context, stored[i].term.text));
  if (after (key, "interval.") != NULL)
    return days (view, value);
  if (is_measure (key) && core_number_parse (value, &number))
    return words_number (view->lang, number, 2);
  return g_strdup (value);
}
