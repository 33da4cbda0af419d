/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-search-facts.c — what was entered, by the words that say it: moults, sales, deaths, origins.
 *
 * Read once from the journal by the connection that searches, and then what came since. Most of such
 * entries say the same: their words are kept once, so that a keystroke compares some hundred texts
 * and what keepers wrote themselves. What is done every evening (meals, water) is not here: meals
 * lie in the states, and nobody looks for a misting again. */
#include "desk/desk-search-private.h"

#include <string.h>

#include "words/words-search.h"

static const CoreKind kinds[] = {
  CORE_KIND_ACQUIRED, CORE_KIND_MOULTED,   CORE_KIND_STAGE,    CORE_KIND_SIGN,     CORE_KIND_SEXED,
  CORE_KIND_TROUBLE,  CORE_KIND_LOOKS_DEAD, CORE_KIND_DIED,    CORE_KIND_ESCAPED,  CORE_KIND_FOUND,
  CORE_KIND_LEFT,     CORE_KIND_BACK,      CORE_KIND_SET,      CORE_KIND_CALLED,   CORE_KIND_PAIRED,
  CORE_KIND_LAID,     CORE_KIND_HARDENED,  CORE_KIND_HATCHING, CORE_KIND_DUD,      CORE_KIND_DOUBTFUL,
  CORE_KIND_CULTURE,  CORE_KIND_POWER,
};

static void
fact_clear (gpointer data)
{
  g_free (((DeskFact *) data)->own);
}

DeskFacts *
desk_facts_new (gint64 after_seq)
{
  DeskFacts *self = g_new0 (DeskFacts, 1);

  self->texts = g_ptr_array_new_with_free_func (g_free);
  self->index = g_hash_table_new (g_str_hash, g_str_equal);
  self->facts = g_array_new (FALSE, FALSE, sizeof (DeskFact));
  g_array_set_clear_func (self->facts, fact_clear);
  self->after_seq = self->last_seq = after_seq;
  return self;
}

void
desk_facts_free (DeskFacts *self)
{
  g_array_unref (self->facts);
  g_hash_table_unref (self->index);
  g_ptr_array_unref (self->texts);
  g_free (self);
}

/* Takes the folded text; which of `texts` it is. */
static guint
text_of (DeskFacts *self, char *folded)
{
  gpointer at;

  if (g_hash_table_lookup_extended (self->index, folded, NULL, &at))
    {
      g_free (folded);
      return GPOINTER_TO_UINT (at);
    }
  g_hash_table_insert (self->index, folded, GUINT_TO_POINTER (self->texts->len));
  g_ptr_array_add (self->texts, folded);
  return self->texts->len - 1;
}

static char *
folded (char *text_taken)
{
  g_autofree char *text = text_taken;
  GString *out = g_string_new (NULL);

  desk_search_fold (out, text);
  return g_string_free (out, FALSE);
}

/* What a subject is called is looked for where it stands, and not as a fact of its own. */
static gboolean
is_name (const CoreEntry *entry)
{
  static const char *const names[] = { "species", "number", "name", "code", "lot", "within", NULL };
  const char *key = core_entry_str (entry, CORE_KEY_KEY);

  return entry->kind == CORE_KIND_SET &&
         (g_strv_contains (names, key) || g_str_has_prefix (key, "kind.") || g_str_has_prefix (key, "caution."));
}

static gboolean
note_fact (gint64 seq, CoreEntry *entry, gpointer data, GError **error)
{
  DeskFacts *self = data;
  DeskFact fact = { entry->id, entry->subject, seq, entry->day, 0, NULL };

  self->last_seq = seq;
  if (!is_name (entry))
    {
      fact.text = text_of (self, folded (words_search_terms (entry)));
      fact.own = folded (words_search_own (entry));
      if (fact.own[1] == '\0') /* a space alone */
        g_clear_pointer (&fact.own, g_free);
      g_array_append_val (self->facts, fact);
    }
  core_entry_free (entry);
  return TRUE;
}

gboolean
desk_facts_read (DeskFacts *self, Store *store, GError **error)
{
  gint64 last = self->last_seq;

  if (!store_last_seq (store, &last, error))
    return FALSE;
  if (last > self->last_seq &&
      !store_scan_kinds (store, self->last_seq, kinds, G_N_ELEMENTS (kinds), note_fact, self, error))
    return FALSE;
  self->last_seq = MAX (self->last_seq, last);
  return TRUE;
}

/* Two searches that were asked at once may bring the same: the second is let go. */
void
desk_facts_take (DeskFacts *self, DeskFacts *more)
{
  if (more->after_seq != self->last_seq)
    return;
  for (guint i = 0; i < more->facts->len; i++)
    {
      DeskFact fact = g_array_index (more->facts, DeskFact, i);

      fact.text = text_of (self, g_strdup (more->texts->pdata[fact.text]));
      g_array_append_val (self->facts, fact);
    }
  g_array_set_clear_func (more->facts, NULL); /* what they own went along */
  self->last_seq = more->last_seq;
}
