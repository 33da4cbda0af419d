/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-kind-name.c — kinds without a profile, known by the name that the keeper gives them.
 *
 * A name of two words or more is one, unless it is near to a kind that has a profile: that is a slip,
 * and the animal would be forecast by the general figures without a word. */
#include <string.h>

#include "desk/desk-private.h"

#define SHORTEST 5
#define LONGEST 79 /* bytes that a state keeps */

/* Letters to change, add or leave out. */
static guint
distance (const char *a, const char *b)
{
  gsize n = MIN (strlen (b), 79);
  guint row[80];

  for (gsize j = 0; j <= n; j++)
    row[j] = (guint) j;
  for (guint i = 0; a[i] != '\0' && i < 79; i++)
    {
      guint before = row[0];

      row[0] = i + 1;
      for (gsize j = 0; j < n; j++)
        {
          guint old = row[j + 1];
          guint swap = before + (a[i] == b[j] ? 0 : 1);

          row[j + 1] = MIN (swap, MIN (old, row[j]) + 1);
          before = old;
        }
    }
  return row[n];
}

gboolean
desk_kind_near (const CoreProfile *profile, const char *folded)
{
  const char *second = strchr (profile->scientific, ' ');
  g_autofree char *genus = g_strndup (profile->scientific, strcspn (profile->scientific, " "));
  const char *names[] = { profile->scientific, genus, second != NULL ? second + 1 : "",
                          profile->common, profile->common_de };
  guint most = MAX (2, (guint) strlen (folded) / 4);

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *name = g_utf8_casefold (names[i], -1);
      /* A beginning with slips: as long as what was typed. */
      g_autofree char *cut = g_strndup (name, strlen (folded));

      if (name[0] != '\0' && strlen (folded) >= 3 &&
          (distance (folded, name) <= most || distance (folded, cut) < most))
        return TRUE;
    }
  return FALSE;
}

/* A genus with its capital, and more: "Tenodera cf. aridifolia". Else any remark would be a kind. */
static gboolean
is_name (const char *text)
{
  gboolean two = FALSE, letters = FALSE;

  if (!g_utf8_validate (text, -1, NULL) || !g_unichar_isupper (g_utf8_get_char (text)))
    return FALSE;
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (!g_unichar_isalpha (c) && strchr (" .-'", (int) (c < 128 ? c : 'x')) == NULL)
        return FALSE;
      two = two || (letters && c == ' ');
      letters = letters || g_unichar_isalpha (c);
    }
  return two && letters;
}

char *
desk_kind_own (Desk *self, const char *text)
{
  const GPtrArray *profiles = desk_profiles (self);
  g_autofree char *name = g_strstrip (g_strdup (text));
  g_autofree char *folded = g_utf8_validate (name, -1, NULL) ? g_utf8_casefold (name, -1) : NULL;

  if (folded == NULL || strlen (name) < SHORTEST || strlen (name) > LONGEST || !is_name (name))
    return NULL;
  for (guint i = 0; i < profiles->len; i++)
    {
      const CoreProfile *profile = profiles->pdata[i];

      if (!profile->general && desk_kind_near (profile, folded))
        return NULL;
    }
  return g_steal_pointer (&name);
}
