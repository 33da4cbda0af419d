/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-reason.c — fills the sentence of a reason with its values.
 *
 * An unknown rule gives its id, so that nothing is ever left unsaid; a test
 * walks all ids of core and asks for a sentence.
 */
#include "words/words-reason.h"

#include <math.h>
#include <string.h>

/* A length that is open by so much either way is said as a range. */
#define VAGUE_DAYS 1.5
/* From here on a weekday may be the one or the other. */
#define WEEK 7

static gboolean
fits (const WordsView *view, const WordsReasonRow *row, const CoreReason *reason)
{
  switch (row->when)
    {
    case REASON_NO_DAY:
      return reason->day == CORE_DAY_NONE;
    case REASON_NO_PAST:
      return reason->day == CORE_DAY_NONE || reason->day >= view->today;
    case REASON_ZERO:
      return reason->value == 0;
    case REASON_NAN:
      return isnan (reason->value);
    case REASON_NAN2:
      return isnan (reason->value2);
    case REASON_REFUSED:
      return reason->code == CORE_SIGN_REFUSES && reason->value > 1;
    case REASON_NO_SIGN:
      return reason->code < 0;
    case REASON_FEMALE:
      return reason->code == CORE_SEX_FEMALE;
    case REASON_CODE_0:
      return reason->code == 0;
    case REASON_CODE_1:
      return reason->code == 1;
    case REASON_CODE_2:
      return reason->code == 2;
    case REASON_CODE_3:
      return reason->code == 3;
    case REASON_CODE_5:
      return reason->code == 5;
    case REASON_CODE_6:
      return reason->code == 6;
    case REASON_CODE_7:
      return reason->code == 7;
    case REASON_CODE_8:
      return reason->code == 8;
    case REASON_NEGATIVE:
      return reason->value < 0;
    case REASON_UNDECIDED:
      return reason->value < CORE_SEX_LIKELY;
    case REASON_LIKELY:
      return reason->value > .5;
    case REASON_LIKELY_1:
      return reason->value > .5 && reason->code == 1;
    case REASON_PAST:
      return reason->day2 != CORE_DAY_NONE && view->today != CORE_DAY_NONE &&
             view->today > reason->day2;
    case REASON_ALWAYS:
    default:
      return TRUE;
    }
}

static const WordsReasonRow *
find_row (const WordsView *view, const CoreReason *reason)
{
  for (gsize i = 0; i < words_reason_n_rows; i++)
    {
      if (strcmp (words_reason_rows[i].rule, reason->rule) == 0 &&
          fits (view, &words_reason_rows[i], reason))
        return &words_reason_rows[i];
    }
  return NULL;
}

gboolean
words_reason_known (const char *rule)
{
  for (gsize i = 0; i < words_reason_n_rows; i++)
    {
      if (strcmp (words_reason_rows[i].rule, rule) == 0)
        return TRUE;
    }
  return FALSE;
}

static char *
ago (const WordsView *view, CoreDay day)
{
  gint64 days = (gint64) view->today - day;

  if (day == CORE_DAY_NONE || view->today == CORE_DAY_NONE || days < 2 || days > 60)
    return words_day (view, day, WORDS_DAY_NEAR);
  return g_strdup_printf (TN_ (view->lang, "day", "%d day ago", "%d days ago", (gulong) days),
                          (int) days);
}

static char *
every (const WordsView *view, double a, double b)
{
  g_autofree char *first = words_number (view->lang, a, 1);
  g_autofree char *last = words_number (view->lang, b, 1);

  if (b > a)
    return g_strdup_printf (T_ (view->lang, "interval", "every %s–%s days"), first, last);
  if (a == 1)
    return g_strdup (T_ (view->lang, "interval", "every day"));
  return g_strdup_printf (T_ (view->lang, "interval", "every %s days"), first);
}

static char *
colon_prey (const WordsView *view, int code)
{
  g_autofree char *prey = NULL;

  if (code < 0)
    return g_strdup ("");
  prey = words_prey (view->lang, code, 0);
  /* Translators: put behind a sentence: ": house flies" */
  return g_strdup_printf (T_ (view->lang, "reason", ": %s"), prey);
}

/* Two days of one sentence: where one weekday could be meant by both they are said as dates. */
static char *
one_of_two (const WordsView *view, CoreDay day, CoreDay other)
{
  gint64 away = (gint64) day - view->today, apart = (gint64) day - other;
  gboolean by_weekday = day != CORE_DAY_NONE && (away < -1 || away > 1);

  if (by_weekday && other != CORE_DAY_NONE && (apart >= WEEK || apart <= -WEEK))
    return words_day (view, day, WORDS_DAY_SHORT);
  return words_day (view, day, WORDS_DAY_NEAR);
}

static char *
hours (const WordsView *view, double h)
{
  gulong n = (gulong) round (h);

  return g_strdup_printf (TN_ (view->lang, "count", "%lu hour", "%lu hours", n), n);
}

static char *
days_between (const WordsView *view, double lo, double hi)
{
  g_autofree char *least = words_number (view->lang, round (lo), 0);
  g_autofree char *most = words_number (view->lang, round (hi), 0);

  /* Translators: "11–24 days" */
  return g_strdup_printf (T_ (view->lang, "count", "%s–%s days"), least, most);
}

/* What is said of a day; NULL when the name is none of these. `both`: the sentence says day
 * and day2. */
static char *
day_placeholder (const WordsView *view, const CoreReason *reason, const char *name, gboolean both)
{
  if (strcmp (name, "d") == 0)
    return one_of_two (view, reason->day, both ? reason->day2 : CORE_DAY_NONE);
  if (strcmp (name, "e") == 0)
    return one_of_two (view, reason->day2, both ? reason->day : CORE_DAY_NONE);
  if (strcmp (name, "ago") == 0)
    return ago (view, reason->day);
  if (strcmp (name, "e ago") == 0)
    return ago (view, reason->day2);
  if (strcmp (name, "date") == 0)
    return words_day (view, reason->day, WORDS_DAY_SHORT);
  if (strcmp (name, "e date") == 0)
    return words_day (view, reason->day2, WORDS_DAY_SHORT);
  if (strcmp (name, "range") == 0)
    return words_day_range (view, reason->day, reason->day2);
  return NULL;
}

/* How long a stage took, from the first to the last that it can have been. */
static char *
took (const WordsView *view, const CoreReason *reason)
{
  double most = reason->value + reason->value3;
  g_autofree char *days = NULL;

  if (reason->value3 < VAGUE_DAYS)
    return words_quantity (view, reason->value, reason->unit);
  if (reason->value - reason->value3 >= 1)
    return days_between (view, reason->value - reason->value3, most);
  days = words_quantity (view, most, reason->unit);
  /* Translators: a number of days */
  return g_strdup_printf (T_ (view->lang, "reason", "at most %s"), days);
}

/* The text of one placeholder; NULL when there is none of that name. */
static char *
placeholder (const WordsView *view, const CoreReason *reason, const char *name, gboolean both)
{
  char *day = day_placeholder (view, reason, name, both);

  if (day != NULL)
    return day;
  if (strcmp (name, "span") == 0)
    return days_between (view, reason->value2, reason->value3);
  if (strcmp (name, "both") == 0)
    return days_between (view, reason->value, reason->value2);
  if (strcmp (name, "took") == 0)
    return took (view, reason);
  if (strcmp (name, "rest") == 0)
    return words_quantity (view, 1 - reason->value, reason->unit);
  if (strcmp (name, "size") == 0)
    return words_quantity (view, fabs (reason->value), reason->unit);
  if (strcmp (name, "code") == 0)
    return words_number (view->lang, reason->code, 0);
  if (strcmp (name, "v") == 0)
    return words_quantity (view, reason->value, reason->unit);
  if (strcmp (name, "w") == 0)
    return words_quantity (view, reason->value2, reason->unit);
  if (strcmp (name, "x") == 0)
    return words_quantity (view, reason->value3, reason->unit);
  if (strcmp (name, "every") == 0)
    return every (view, reason->value, reason->value2);
  if (strcmp (name, "n") == 0)
    return words_number (view->lang, round (reason->value), 0);
  if (strcmp (name, "m") == 0)
    return words_number (view->lang, round (reason->value2), 0);
  if (strcmp (name, "hours") == 0)
    return hours (view, reason->value3);
  if (strcmp (name, "stage") == 0)
    return words_stage_number (isnan (reason->value) ? -1 : (int) reason->value, view->scheme);
  if (strcmp (name, "prey") == 0)
    return words_prey (view->lang, reason->code, 0);
  if (strcmp (name, "-prey") == 0)
    return colon_prey (view, reason->code);
  if (strcmp (name, "sign") == 0)
    return g_strdup (words_sign (view->lang, reason->code));
  if (strcmp (name, "trouble") == 0)
    return g_strdup (words_trouble (view->lang, reason->code));
  if (strcmp (name, "sex") == 0)
    return g_strdup (words_sex_plain (view->lang, (CoreSex) reason->code));
  return NULL;
}

static char *
fill (const WordsView *view, const CoreReason *reason, const char *text)
{
  g_autoptr (GString) out = g_string_new (NULL);
  gboolean both = strstr (text, "{d}") != NULL && strstr (text, "{e}") != NULL;
  const char *p = text;

  while (*p != '\0')
    {
      const char *open = strchr (p, '{');
      const char *close = open != NULL ? strchr (open, '}') : NULL;
      g_autofree char *name = NULL;
      g_autofree char *value = NULL;

      if (close == NULL)
        {
          g_string_append (out, p);
          break;
        }
      name = g_strndup (open + 1, close - open - 1);
      value = placeholder (view, reason, name, both);
      g_string_append_len (out, p, open - p);
      g_string_append (out, value != NULL ? value : "");
      p = close + 1;
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
words_reason (const WordsView *view, const CoreReason *reason)
{
  const WordsReasonRow *row = find_row (view, reason);
  g_autofree char *text = NULL;

  if (row == NULL)
    return g_strdup (reason->rule);
  text = fill (view, reason, T_ (view->lang, row->term.context, row->term.text));
  return words_sentence (g_steal_pointer (&text));
}
