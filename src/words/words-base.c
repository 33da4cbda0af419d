/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-base.c — the language switch, numbers and lists.
 *
 * Under WORDS_ENGLISH nothing here looks at the locale.
 */
#include <libintl.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#include "words/words-private.h"

void
words_init (const char *locale_dir)
{
  const char *given = g_getenv ("MANTIDARY_LOCALEDIR");

  if (locale_dir == NULL)
    locale_dir = given != NULL && *given != '\0' ? given : MANTIDARY_LOCALE_DIR;
  bindtextdomain (GETTEXT_PACKAGE, locale_dir);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
}

const char *
words_tr (WordsLang lang, const char *context, const char *text)
{
  if (lang == WORDS_ENGLISH)
    return text;
  return g_dpgettext2 (GETTEXT_PACKAGE, context, text);
}

/* GLib has no plural with context: the catalogue's key is "context EOT text". */
const char *
words_trn (WordsLang lang, const char *context, const char *one, const char *many, gulong n)
{
  g_autofree char *key = NULL;
  const char *found;

  if (lang == WORDS_ENGLISH)
    return n == 1 ? one : many;
  key = g_strconcat (context, "\004", one, NULL);
  found = g_dngettext (GETTEXT_PACKAGE, key, many, n);
  if (found == key || found == many || strcmp (found, key) == 0)
    return n == 1 ? one : many;
  return found;
}

const char *
words_term (WordsLang lang, const WordsTerm *terms, gsize n, int i)
{
  if (i < 0 || (gsize) i >= n || terms[i].text == NULL)
    return T_ (lang, "term", "something else");
  return T_ (lang, terms[i].context, terms[i].text);
}

char *
words_fill (const char *text, const char *const *args)
{
  gsize n = args == NULL ? 0 : g_strv_length ((char **) (guintptr) args);
  GString *out = g_string_new (NULL);

  for (; *text != '\0'; text++)
    if (text[0] == '{' && text[1] >= '1' && text[1] <= '4' && text[2] == '}')
      {
        gsize i = (gsize) (text[1] - '1');

        g_string_append (out, i < n ? args[i] : "");
        text += 2;
      }
    else
      g_string_append_c (out, *text);
  return g_string_free (out, FALSE);
}

char *
words_sentence (char *text)
{
  g_autofree char *taken = text;
  g_autofree char *first = NULL;
  const char *rest;

  if (*text == '\0')
    return g_steal_pointer (&taken);
  rest = g_utf8_next_char (text);
  first = g_utf8_strup (text, rest - text);
  return g_strconcat (first, rest,
                      g_str_has_suffix (text, ".") || g_str_has_suffix (text, "?") ? "" : ".",
                      NULL);
}

static const char *
decimal_point (void)
{
  const struct lconv *conv = localeconv ();

  return conv->decimal_point != NULL && *conv->decimal_point != '\0' ? conv->decimal_point : ".";
}

char *
words_number (WordsLang lang, double value, int decimals)
{
  char text[64];

  if (isnan (value))
    return g_strdup (T_ (lang, "number", "unknown"));
  core_number_format (value, CLAMP (decimals, 0, 9), text);
  if (lang == WORDS_LOCAL)
    {
      const char *point = decimal_point ();
      g_auto (GStrv) parts = g_strsplit (text, ".", 2);

      return g_strjoinv (point, parts);
    }
  return g_strdup (text);
}

char *
words_days (WordsLang lang, double days)
{
  g_autofree char *number = NULL;
  double shown = fabs (days) < 10 ? round (days * 2) / 2 : round (days);

  number = words_number (lang, shown, 1);
  /* A broken number of days takes the form of many. */
  return g_strdup_printf (TN_ (lang, "count", "%s day", "%s days",
                               shown == floor (shown) ? (gulong) fabs (shown) : 2),
                          number);
}

char *
words_quantity (const WordsView *view, double value, CoreUnit unit)
{
  g_autofree char *number = words_number (view->lang, value, unit == CORE_UNIT_CELSIUS ? 1 : 2);

  switch (unit)
    {
    case CORE_UNIT_DAYS:
      return words_days (view->lang, value);
    case CORE_UNIT_TIMES:
      return g_strdup_printf (T_ (view->lang, "quantity", "%s times"), number);
    case CORE_UNIT_MM:
      g_free (number);
      number = words_number (view->lang, value, fabs (value) < 10 ? 1 : 0);
      return g_strdup_printf (T_ (view->lang, "quantity", "%s mm"), number);
    case CORE_UNIT_CELSIUS:
      return g_strdup_printf (T_ (view->lang, "quantity", "%s °C"), number);
    case CORE_UNIT_PERCENT:
      g_free (number);
      number = words_number (view->lang, value, fabs (value) < 1 ? 1 : 0);
      return g_strdup_printf (T_ (view->lang, "quantity", "%s %%"), number);
    case CORE_UNIT_PROBABILITY:
      return words_percent (view->lang, value);
    case CORE_UNIT_MOULTS:
      return g_strdup_printf (
        TN_ (view->lang, "count", "%s moult", "%s moults", value == 1 ? 1 : 2), number);
    case CORE_UNIT_DAY:
      return words_day (view, (CoreDay) value, WORDS_DAY_NEAR);
    case CORE_UNIT_SCORE:
    case CORE_UNIT_NONE:
    default:
      return g_steal_pointer (&number);
    }
}

char *
words_list (WordsLang lang, const char *const *items, gsize n)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (gsize i = 0; i < n; i++)
    {
      if (i > 0)
        g_string_append (text, i + 1 == n ? T_ (lang, "list", " and ") : T_ (lang, "list", ", "));
      g_string_append (text, items[i]);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

/* A number without a letter, below a thousand million; 0 for every other label. */
static guint
plain_number (const char *label)
{
  return strspn (label, "0123456789") == strlen (label) && strlen (label) < 10 && label[0] != '0'
           ? (guint) strtoul (label, NULL, 10)
           : 0;
}

GPtrArray *
words_number_parts (WordsLang lang, const char *const *numbers, gsize n)
{
  GPtrArray *parts = g_ptr_array_new_with_free_func (g_free);

  for (gsize i = 0, run; i < n; i += run)
    {
      guint first = plain_number (numbers[i]);

      run = 1;
      while (first > 0 && i + run < n && plain_number (numbers[i + run]) == first + run)
        run++;
      if (run > 2)
        g_ptr_array_add (parts, g_strdup_printf (T_ (lang, "round write", "%s–%s"), numbers[i], numbers[i + run - 1]));
      else
        {
          g_ptr_array_add (parts, g_strdup (numbers[i]));
          run = 1;
        }
    }
  return parts;
}

char *
words_numbers (WordsLang lang, const char *const *numbers, gsize n, gboolean sentence)
{
  g_autoptr (GPtrArray) parts = words_number_parts (lang, numbers, n);

  if (sentence)
    return words_list (lang, (const char *const *) parts->pdata, parts->len);
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (T_ (lang, "list", ", "), (char **) parts->pdata);
}

char *
words_percent (WordsLang lang, double p)
{
  if (isnan (p))
    return g_strdup (T_ (lang, "number", "unknown"));
  if (p < 0.01)
    return g_strdup (T_ (lang, "chance", "under 1 in 100"));
  if (p > 0.99)
    return g_strdup (T_ (lang, "chance", "over 99 in 100"));
  return g_strdup_printf (T_ (lang, "chance", "%d in 100"), (int) lround (p * 100));
}
