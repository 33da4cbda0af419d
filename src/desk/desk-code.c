/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-code.c — the codes of lots, egg cases and cultures: a letter and a running number,
 * permanent like the numbers of animals.
 *
 * Invariant: a code that a lot, an egg case or a culture ever had is given to no other,
 * also when it was undone. */
#include "desk/desk-private.h"

#include <string.h>

/* In the table of numbers a code has this before it: no number begins so. */
#define CODE_MARK "#"

static guint
letter_index (char letter)
{
  return (guint) (g_ascii_toupper (letter) - 'A');
}

/* "H12" → 12; 0 = not of that form. */
static guint64
running_number (const char *code)
{
  gsize digits = strspn (code[0] != '\0' ? code + 1 : "", "0123456789");

  if (!g_ascii_isalpha (code[0]) || digits < 1 || digits > 8 || code[1 + digits] != '\0')
    return 0;
  return g_ascii_strtoull (code + 1, NULL, 10);
}

char *
desk_code_key (const char *code)
{
  g_autofree char *folded = g_utf8_casefold (code, -1);

  return g_strconcat (CODE_MARK, folded, NULL);
}

void
desk_code_note (DeskCollection *self, const char *code)
{
  guint64 n = running_number (code);

  if (n > 0)
    self->top_codes[letter_index (code[0])] = MAX (self->top_codes[letter_index (code[0])], n);
}

char *
desk_code_next (Desk *self, char letter)
{
  return g_strdup_printf ("%c%" G_GUINT64_FORMAT, letter,
                          self->all.top_codes[letter_index (letter)] + 1);
}

/* Whose code that is by right; NULL = nobody's. */
const CoreId *
desk_code_owner (const DeskCollection *self, const char *code)
{
  g_autofree char *key = desk_code_key (code);

  return g_hash_table_lookup (self->numbers, key);
}

gboolean
desk_code_is_permanent (CoreSubjectKind kind)
{
  return kind == CORE_SUBJECT_LOT || kind == CORE_SUBJECT_EGGCASE || kind == CORE_SUBJECT_CULTURE;
}
