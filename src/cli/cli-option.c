/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-option.c — options: which a verb has, of what form, and what they say.
 *
 * The table of verbs says the form of each, so that what has not that form is told before anything
 * is opened or looked up (DEVELOPERS.md, "Exit codes"); whether the value can be is the verb's to
 * say. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "core/core-date.h"
#include "core/core-rule.h"
#include "desk/desk-when.h"

/* The option in "a b=form …": behind its name; NULL = there is none. */
static const char *
find_in (const char *options, const char *name, gsize length)
{
  for (const char *at = options; at != NULL && *at != '\0';)
    {
      gsize word = strcspn (at, " ");

      if (word >= length && strncmp (at, name, length) == 0 &&
          (word == length || at[length] == '='))
        return at + length;
      at += word + (at[word] == ' ');
    }
  return NULL;
}

int
cli_option_type (const char *options, const char *name, gsize length)
{
  const char *found = find_in (options, name, length);

  return found == NULL ? 0 : *found == '=' ? 2 : 1;
}

const char *
cli_option (Cli *cli, const char *name)
{
  return g_hash_table_lookup (cli->options, name);
}

gboolean
cli_option_day (Cli *cli, const char *name, CoreDay *day)
{
  const char *value = cli_option (cli, name);

  if (value == NULL)
    return TRUE;
  *day = core_day_from_text (value);
  if (*day != CORE_DAY_NONE)
    return TRUE;
  cli_usage_error (cli, "--%s %s: expected a day as YYYY-MM-DD.", name, value);
  return FALSE;
}

gboolean
cli_option_past (Cli *cli, const char *name, CoreDay *day)
{
  const char *value = cli_option (cli, name);

  if (value == NULL)
    return TRUE;
  *day = desk_when_day (value, cli->today);
  if (*day != CORE_DAY_NONE)
    return TRUE;
  cli_usage_error (cli,
                   "--%s %s: expected one day as YYYY-MM-DD, or in words: yesterday, last friday, "
                   "10 may.",
                   name, value);
  return FALSE;
}

gboolean
cli_option_when (Cli *cli, const char *name, DeskWhen *when)
{
  const char *value = cli_option (cli, name);

  *when = (DeskWhen){ CORE_DAY_NONE, CORE_DAY_NONE, CORE_DAY_NONE };
  if (value == NULL || desk_when_days (value, cli->today, when))
    return TRUE;
  cli_usage_error (cli,
                   "--%s %s: expected a day as YYYY-MM-DD, or in words: yesterday, last friday, "
                   "10 may, about a week ago.",
                   name, value);
  return FALSE;
}

gboolean
cli_option_number (Cli *cli, const char *name, double *value)
{
  const char *text = cli_option (cli, name);

  if (text == NULL)
    return TRUE;
  if (core_number_parse (text, value) && isfinite (*value))
    return TRUE;
  cli_usage_error (cli, "--%s %s: expected a number, with '.' as the decimal point.", name, text);
  return FALSE;
}

gboolean
cli_option_clock (Cli *cli, const char *name, int *minute)
{
  const char *text = cli_option (cli, name);

  *minute = -1;
  if (text == NULL)
    return TRUE;
  *minute = desk_minute_from_text (text);
  if (*minute >= 0)
    return TRUE;
  cli_usage_error (cli, "--%s %s: expected HH:MM.", name, text);
  return FALSE;
}

int
cli_option_points (Cli *cli, const char *name, double *out, int most)
{
  const char *text = cli_option (cli, name);
  g_auto (GStrv) items = g_strsplit (text != NULL ? text : "", ",", -1);
  guint n = g_strv_length (items);

  if (n < 4 || n % 2 != 0)
    return 0;
  for (guint i = 0; i < n; i++)
    {
      double value;

      if (!core_number_parse (items[i], &value))
        return 0;
      if (out != NULL && i < 2 * (guint) most)
        out[i] = value;
    }
  return (int) n / 2;
}

/* ---- the form of each, before the verb ---- */

static gboolean
is_number (Cli *cli, const char *name)
{
  double value;

  return cli_option_number (cli, name, &value);
}

static gboolean
is_day (Cli *cli, const char *name)
{
  CoreDay day;

  return cli_option_day (cli, name, &day);
}

static gboolean
is_past (Cli *cli, const char *name)
{
  CoreDay day;

  return cli_option_past (cli, name, &day);
}

static gboolean
is_when (Cli *cli, const char *name)
{
  DeskWhen when;

  return cli_option_when (cli, name, &when);
}

static gboolean
is_clock (Cli *cli, const char *name)
{
  int minute;

  return cli_option_clock (cli, name, &minute);
}

static gboolean
is_interval (Cli *cli, const char *name)
{
  const char *text = cli_option (cli, name);
  double a, b;

  if (core_interval_parse (text, &a, &b))
    return TRUE;
  cli_usage_error (cli, "“%s” is no number of days: 5 or 3-5.", text);
  return FALSE;
}

static gboolean
has_points (Cli *cli, const char *name, gboolean form, const char *expected)
{
  if (!form)
    cli_usage_error (cli, "--%s %s: expected %s.", name, cli_option (cli, name), expected);
  return form;
}

static gboolean
is_points (Cli *cli, const char *name)
{
  return has_points (cli, name, cli_option_points (cli, name, NULL, 0) > 0,
                     "x0,y0,x1,y1 and, if need be, more marks");
}

static gboolean
is_ends (Cli *cli, const char *name)
{
  return has_points (cli, name, cli_option_points (cli, name, NULL, 0) == 2, "x0,y0,x1,y1");
}

static gboolean
is_pairs (Cli *cli, const char *name)
{
  int n = cli_option_points (cli, name, NULL, 0);

  return has_points (cli, name, n > 0 && n % 2 == 0,
                     "pairs x,y of the upper and x,y of the lower edge");
}

/* The words behind '=' in the table of verbs. */
static const struct
{
  const char *name;
  gboolean (*check) (Cli *cli, const char *option); /* FALSE: said so */
} forms[] = {
  { "number", is_number }, { "day", is_day },     { "past", is_past },
  { "when", is_when },     { "clock", is_clock }, { "interval", is_interval },
  { "points", is_points }, { "ends", is_ends },   { "pairs", is_pairs },
};

static gboolean
check (Cli *cli, const char *name, const char *form)
{
  for (gsize i = 0; i < G_N_ELEMENTS (forms); i++)
    if (strcmp (form, forms[i].name) == 0)
      return forms[i].check (cli, name);
  g_assert_not_reached ();
}

gboolean
cli_check_options (Cli *cli)
{
  g_auto (GStrv) options =
    g_strsplit (cli->verb->options != NULL ? cli->verb->options : "", " ", -1);

  for (char **option = options; *option != NULL; option++)
    {
      char *form = strchr (*option, '=');

      if (form == NULL || form[1] == '\0')
        continue; /* a flag, or any text */
      *form++ = '\0';
      if (cli_option (cli, *option) != NULL && !check (cli, *option, form))
        return FALSE;
    }
  return TRUE;
}
