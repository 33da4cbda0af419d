/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-profile-value.c — the values of a profile one by one, as its file says them; what is typed,
 * brought into that form and tried.
 */
#include <math.h>
#include <string.h>

#include "core/core-entry.h"
#include "exchange/exch-profile-private.h"

void
exch_value_free (ExchValue *self)
{
  g_free (self->group);
  g_free (self->key);
  g_free (self->value);
  g_free (self->from);
  g_free (self->other);
  g_free (self->other_from);
  g_free (self->note);
  g_free (self->note_de);
  g_free (self);
}

/* ---- what the table of the group says ---- */

#define FIELD(T, off) (*(const T *) (const void *) ((const char *) profile + (off)))

static void
add_number (GString *out, double v)
{
  char text[32] = "-";

  if (!isnan (v))
    core_number_format (v, 4, text);
  g_string_append_printf (out, "%s%s", out->len > 0 ? ";" : "", text);
}

static void
add_stages (GString *out, const CoreTagged *days)
{
  int n = CORE_MAX_MOULTS;

  while (n > 1 && isnan (days[n - 1].v))
    n--;
  for (int m = 0; m < n; m++)
    add_number (out, days[m].v);
}

static void
add_chances (GString *out, const double *p)
{
  for (int n = 0; n <= CORE_MAX_MOULTS; n++)
    {
      char text[32];

      if (p[n] <= 0)
        continue;
      core_number_format (p[n], 4, text);
      g_string_append_printf (out, "%s%d:%s", out->len > 0 ? ";" : "", n, text);
    }
}

static void
add_preys (GString *out, unsigned bits)
{
  const char *const *words = core_kind_key (CORE_KIND_FED, CORE_KEY_PREY)->words;

  for (int i = 0; words[i] != NULL; i++)
    if ((bits & 1u << i) != 0)
      g_string_append_printf (out, "%s%s", out->len > 0 ? ";" : "", words[i]);
}

static char *
from_struct (const CoreProfile *profile, const ExchProfileKey *key)
{
  GString *out = g_string_new (NULL);

  switch (key->type)
    {
    case EXCH_KEY_BOOL:
      g_string_append (out, FIELD (bool, key->offset) ? "true" : "false");
      break;
    case EXCH_KEY_PREY:
      add_preys (out, FIELD (unsigned, key->offset));
      break;
    case EXCH_KEY_NUMBER:
      add_number (out, FIELD (double, key->offset));
      break;
    case EXCH_KEY_INT:
      add_number (out, FIELD (int, key->offset));
      break;
    case EXCH_KEY_TAGGED:
      add_number (out, FIELD (CoreTagged, key->offset).v);
      break;
    case EXCH_KEY_SPAN:
      add_number (out, FIELD (CoreSpan, key->offset).a.v);
      add_number (out, FIELD (CoreSpan, key->offset).b.v);
      break;
    case EXCH_KEY_PAIR:
      add_number (out, FIELD (CoreTagged, key->offset).v);
      add_number (out, FIELD (CoreTagged, key->offset2).v);
      break;
    case EXCH_KEY_MEAN_SD:
      add_number (out, FIELD (double, key->offset));
      add_number (out, FIELD (double, key->offset2));
      break;
    case EXCH_KEY_STAGES:
      add_stages (out, &FIELD (CoreTagged, key->offset));
      break;
    case EXCH_KEY_DIST:
      add_chances (out, &FIELD (double, key->offset));
      break;
    case EXCH_KEY_TEXT:
    case EXCH_KEY_GROUP:
    case EXCH_KEY_SAYS:
    default:
      break; /* needed, or none */
    }
  return g_string_free (out, FALSE);
}

/* ---- what the file says ---- */

static char *
get (GKeyFile *doc, const char *group, const char *key, const char *beside)
{
  g_autofree char *name = g_strconcat (key, beside, NULL);
  char *value = g_key_file_get_value (doc, group, name, NULL);

  return value != NULL ? g_strstrip (value) : NULL;
}

static ExchValue *
value_new (GKeyFile *doc, const CoreProfile *profile, const char *group, const ExchProfileKey *key)
{
  ExchValue *self = g_new0 (ExchValue, 1);

  self->group = g_strdup (group);
  self->key = g_strdup (key->key);
  self->type = key->type;
  self->min = key->min;
  self->max = key->max;
  self->may_lack = key->may_lack;
  self->needed = key->needed;
  self->value = get (doc, group, key->key, "");
  self->stands = self->value != NULL;
  if (!self->stands)
    self->value =
      profile != NULL && key->type != EXCH_KEY_SAYS ? from_struct (profile, key) : g_strdup ("");
  self->from = get (doc, group, key->key, ".from");
  self->other = get (doc, group, key->key, ".other");
  self->other_from = get (doc, group, key->key, ".other.from");
  self->note = get (doc, group, key->key, ".note");
  self->note_de = get (doc, group, key->key, ".note_de");
  return self;
}

static void
free_value (gpointer value)
{
  exch_value_free (value);
}

static void
add_cues (GPtrArray *out, GKeyFile *doc)
{
  g_auto (GStrv) groups = g_key_file_get_groups (doc, NULL);

  for (guint i = 0; groups[i] != NULL; i++)
    for (gsize k = 0; g_str_has_prefix (groups[i], "cue ") && k < EXCH_N_CUE_KEYS; k++)
      {
        ExchValue *value = value_new (doc, NULL, groups[i], &exch_cue_keys[k]);

        if (value->type == EXCH_KEY_BOOL && !value->stands)
          {
            g_free (value->value);
            value->value = g_strdup ("false");
          }
        g_ptr_array_add (out, value);
      }
}

GPtrArray *
exch_profile_values (const CoreProfile *profile, const char *text)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (free_value);
  g_autoptr (GKeyFile) doc = exch_doc_new (text);

  for (gsize i = 0; i < exch_profile_n_keys; i++)
    g_ptr_array_add (out,
                     value_new (doc, profile, exch_profile_keys[i].group, &exch_profile_keys[i]));
  add_cues (out, doc);
  return out;
}

char *
exch_profile_source (const char *text, const char *id)
{
  g_autoptr (GKeyFile) doc = exch_doc_new (text);

  return get (doc, "sources", id, "");
}

/* ---- what is typed ---- */

static gboolean
is_list (ExchKeyType type)
{
  return type == EXCH_KEY_SPAN || type == EXCH_KEY_PAIR || type == EXCH_KEY_MEAN_SD ||
         type == EXCH_KEY_STAGES;
}

static gboolean
is_number (ExchKeyType type)
{
  return type == EXCH_KEY_NUMBER || type == EXCH_KEY_INT || type == EXCH_KEY_TAGGED;
}

/* Is the character before `at`, blanks left out, a digit or the stop of a number? */
static gboolean
after_number (const GString *out)
{
  gsize n = out->len;

  while (n > 0 && out->str[n - 1] == ' ')
    n--;
  return n > 0 && (g_ascii_isdigit (out->str[n - 1]) || out->str[n - 1] == '.');
}

/* Commas of decimals become stops; what stands between numbers becomes ';'. */
static char *
plain_list (const char *typed)
{
  GString *out = g_string_new (NULL);

  for (const char *p = typed; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (c == ',')
        g_string_append_c (out, g_ascii_isdigit (p[1]) ? '.' : ';');
      else if (c == 0xb1 || ((c == '-' || c == 0x2013 || c == 0x2014) && after_number (out)))
        g_string_append_c (out, ';'); /* ± - – — */
      else if (c == 0x2013 || c == 0x2014)
        g_string_append_c (out, '-'); /* alone: unknown */
      else if (c == 0x2212)
        g_string_append_c (out, '-'); /* the sign of minus */
      else
        g_string_append_unichar (out, c);
    }
  return g_string_free (out, FALSE);
}

static char *
joined (const char *text)
{
  g_auto (GStrv) words = g_strsplit_set (text, "; \t", -1);
  GString *out = g_string_new (NULL);

  for (guint i = 0; words[i] != NULL; i++)
    if (words[i][0] != '\0')
      g_string_append_printf (out, "%s%s", out->len > 0 ? ";" : "", words[i]);
  return g_string_free (out, FALSE);
}

/* "6: 70 %, 7: 30 %" → "6:0.7;7:0.3" */
static char *
chances (const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, ";", -1);
  GString *out = g_string_new (NULL);

  for (guint i = 0; parts[i] != NULL; i++)
    {
      g_auto (GStrv) two = g_strsplit (parts[i], ":", 2);
      char *percent = two[0] != NULL && two[1] != NULL ? strchr (two[1], '%') : NULL;
      char number[32];
      double p;

      if (g_strstrip (parts[i])[0] == '\0')
        continue;
      if (percent != NULL)
        *percent = '\0';
      if (percent != NULL && core_number_parse (g_strstrip (two[1]), &p))
        {
          core_number_format (p / 100, 4, number);
          g_string_append_printf (out, "%s%s:%s", out->len > 0 ? ";" : "", g_strstrip (two[0]), number);
        }
      else
        g_string_append_printf (out, "%s%s", out->len > 0 ? ";" : "", parts[i]);
    }
  return g_string_free (out, FALSE);
}

char *
exch_value_from_typed (const ExchValue *value, const char *typed)
{
  g_autofree char *text = g_strstrip (g_strdup (typed));
  g_autofree char *list = NULL;

  if (is_number (value->type))
    return value->may_lack && (text[0] == '\0' || g_str_equal (text, "–"))
             ? g_strdup ("-")
             : g_strdelimit (g_steal_pointer (&text), ",", '.');
  if (!is_list (value->type) && value->type != EXCH_KEY_DIST)
    return g_steal_pointer (&text);
  list = plain_list (text);
  return value->type == EXCH_KEY_DIST ? chances (list) : joined (list);
}

char *
exch_profile_try (const char *text, const char *group, const char *key, const char *value)
{
  g_autoptr (GKeyFile) doc = exch_doc_new (text);
  g_autofree char *whole = NULL;
  char *why = NULL;
  CoreProfile profile;

  if (strpbrk (value, "\r\n") != NULL)
    value = "\\"; /* one line is one value: refused below like any escape */
  exch_doc_set_own (doc, group, key, value);
  whole = exch_doc_text (doc, NULL);
  if (exch_profile_parse_why ("", whole, strlen (whole), &profile, &why, NULL))
    {
      core_profile_clear (&profile);
      return NULL;
    }
  return why != NULL ? why : g_strdup ("?");
}
