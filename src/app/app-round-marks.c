/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-round-marks.c — see app-round-marks.h. */
#include "app/app-round-marks.h"

#include <glib/gi18n.h>

typedef struct
{
  CoreRoundWord outcome;
  int code;
  const char *label;
  const char *lettered; /* the word that gives the letter, NULL = the label */
  gboolean capital;
} Row;

/* In the order in which letters are given away. */
static const Row rows[] = {
  { CORE_WORD_TOOK, -1, NC_ ("round mark", "took"), NULL, FALSE },
  { CORE_WORD_REFUSED, -1, NC_ ("round mark", "refused"), NULL, FALSE },
  { CORE_WORD_MOULTED, -1, NC_ ("round mark", "moulted"), NULL, FALSE },
  { CORE_WORD_MOULTED, CORE_MOULT_FELL, NC_ ("round mark", "moulted, fell"),
    NC_ ("round mark", "fell"), FALSE },
  { CORE_WORD_MOULTED, CORE_MOULT_STUCK, NC_ ("round mark", "moulted, stuck"),
    NC_ ("round mark", "stuck"), FALSE },
  { CORE_WORD_BELLY, -1, NC_ ("round mark", "belly"), NULL, FALSE },
  { CORE_WORD_DRANK, -1, NC_ ("round mark", "drank"), NULL, FALSE },
  { CORE_WORD_GONE, -1, NC_ ("round mark", "prey gone"), NC_ ("round mark", "gone"), FALSE },
  { CORE_WORD_SIGN, CORE_SIGN_HANGING, NC_ ("round mark", "hanging"), NULL, FALSE },
  { CORE_WORD_SKIP, -1, NC_ ("round mark", "skip"), NULL, FALSE },
  { CORE_WORD_DEAD, -1, NC_ ("round mark", "dead"), NULL, TRUE },
  { CORE_WORD_ESCAPED, -1, NC_ ("round mark", "escaped"), NULL, TRUE },
  { CORE_WORD_LEFT, -1, NC_ ("round mark", "left"), NULL, TRUE },
};

static gboolean
is_free (const gunichar *letters, guint n, gunichar letter)
{
  for (guint i = 0; i < n; i++)
    if (letters[i] == letter)
      return FALSE;
  return g_unichar_isalpha (letter);
}

/* The first letter of the word that no mark before it has, else the first of the alphabet. */
static gunichar
letter_for (const Row *row, const gunichar *letters, guint n)
{
  const char *word = g_dpgettext2 (GETTEXT_PACKAGE, "round mark", row->lettered != NULL ? row->lettered : row->label);
  gunichar letter;

  for (const char *at = word; *at != '\0'; at = g_utf8_next_char (at))
    {
      letter = g_utf8_get_char (at);
      letter = row->capital ? g_unichar_toupper (letter) : g_unichar_tolower (letter);
      if (is_free (letters, n, letter))
        return letter;
    }
  for (letter = row->capital ? 'A' : 'a'; !is_free (letters, n, letter); letter++)
    continue;
  return letter;
}

static const gunichar *
letters (void)
{
  static gunichar made[G_N_ELEMENTS (rows)];

  if (made[0] == 0)
    for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
      made[i] = letter_for (&rows[i], made, i);
  return made;
}

guint
app_round_n_marks (void)
{
  return G_N_ELEMENTS (rows);
}

const char *
app_round_mark_label (guint mark)
{
  g_return_val_if_fail (mark < G_N_ELEMENTS (rows), "");
  return g_dpgettext2 (GETTEXT_PACKAGE, "round mark", rows[mark].label);
}

gunichar
app_round_mark_letter (guint mark)
{
  g_return_val_if_fail (mark < G_N_ELEMENTS (rows), 0);
  return letters ()[mark];
}

gboolean
app_round_mark_has_score (guint mark)
{
  g_return_val_if_fail (mark < G_N_ELEMENTS (rows), FALSE);
  return rows[mark].outcome == CORE_WORD_BELLY;
}

int
app_round_mark_of_key (guint keyval, GdkModifierType state)
{
  gunichar letter = g_unichar_tolower (gdk_keyval_to_unicode (keyval));

  if ((state & GDK_SHIFT_MASK) != 0)
    letter = g_unichar_toupper (letter);
  for (guint i = 0; letter != 0 && i < G_N_ELEMENTS (rows); i++)
    if (letters ()[i] == letter)
      return (int) i;
  return -1;
}

int
app_round_mark_of (const CoreRoundException *said)
{
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (rows[i].outcome == said->outcome && rows[i].code == said->code && !said->lot)
      return (int) i;
  return -1;
}

CoreRoundException
app_round_mark_make (guint mark, const char *number, int score)
{
  CoreRoundException made = { .prey = -1, .code = -1 };

  g_return_val_if_fail (mark < G_N_ELEMENTS (rows), made);
  made.outcome = rows[mark].outcome;
  made.code = rows[mark].code;
  made.value = app_round_mark_has_score (mark) ? score : 0;
  g_strlcpy (made.number, number, sizeof made.number);
  return made;
}
