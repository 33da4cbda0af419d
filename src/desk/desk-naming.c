/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-naming.c — which entries live: those that name each other, resolved together.
 *
 * Invariant: every entry that names another, and every entry that is named and
 * there, has a node; an entry without one is live. Liveness is kept up by
 * components: what is joined by naming is resolved alone, whatever else the
 * journal holds. */
#include "desk/desk-private.h"

#include <stdlib.h>

static void
free_array (gpointer array)
{
  g_ptr_array_unref (array);
}

void
desk_naming_init (DeskNaming *self)
{
  self->nodes = g_hash_table_new_full (desk_id_hash, desk_id_equal, NULL, g_free);
  self->namers = g_hash_table_new_full (desk_id_hash, desk_id_equal, g_free, free_array);
  self->conflicts = g_array_new (FALSE, FALSE, sizeof (CoreConflict));
}

void
desk_naming_clear (DeskNaming *self)
{
  g_clear_pointer (&self->namers, g_hash_table_unref);
  g_clear_pointer (&self->nodes, g_hash_table_unref);
  g_clear_pointer (&self->conflicts, g_array_unref);
}

DeskNode *
desk_naming_node (DeskNaming *self, CoreId id)
{
  return g_hash_table_lookup (self->nodes, &id);
}

gboolean
desk_naming_is_named (DeskNaming *self, CoreId id)
{
  return g_hash_table_contains (self->namers, &id);
}

DeskNode *
desk_naming_add (DeskNaming *self, const CoreEntry *entry, gint64 seq)
{
  DeskNode *node = desk_naming_node (self, entry->id);
  GPtrArray *namers;

  if (node != NULL)
    return node;
  node = g_new0 (DeskNode, 1);
  node->entry.id = entry->id;
  node->entry.subject = entry->subject;
  node->entry.kind = entry->kind;
  node->entry.day = entry->day;
  node->entry.names = entry->names;
  node->entry.bulk = entry->bulk;
  node->seq = seq;
  node->live = 1;
  g_hash_table_insert (self->nodes, &node->entry.id, node);
  if (core_id_is_none (entry->names))
    return node;
  namers = g_hash_table_lookup (self->namers, &entry->names);
  if (namers == NULL)
    {
      namers = g_ptr_array_new ();
      g_hash_table_insert (self->namers, desk_id_dup (entry->names), namers);
    }
  g_ptr_array_add (namers, node);
  return node;
}

static void
reach (GPtrArray *found, GHashTable *seen, DeskNode *node)
{
  if (node != NULL && g_hash_table_add (seen, node))
    g_ptr_array_add (found, node);
}

/* All that hang together with `start`. */
static GPtrArray *
component (DeskNaming *self, DeskNode *start, GHashTable *seen)
{
  GPtrArray *found = g_ptr_array_new ();

  reach (found, seen, start);
  for (guint i = 0; i < found->len; i++)
    {
      DeskNode *node = found->pdata[i];
      GPtrArray *by[2] = { g_hash_table_lookup (self->namers, &node->entry.id), NULL };

      if (!core_id_is_none (node->entry.names))
        {
          by[1] = g_hash_table_lookup (self->namers, &node->entry.names);
          reach (found, seen, desk_naming_node (self, node->entry.names));
        }
      for (guint k = 0; k < 2; k++)
        for (guint j = 0; by[k] != NULL && j < by[k]->len; j++)
          reach (found, seen, by[k]->pdata[j]);
    }
  return found;
}

static void
forget_conflicts (DeskNaming *self, const GPtrArray *nodes)
{
  g_autoptr (GHashTable) ids = NULL;

  if (self->conflicts->len == 0)
    return;
  ids = g_hash_table_new (desk_id_hash, desk_id_equal);
  for (guint i = 0; i < nodes->len; i++)
    g_hash_table_add (ids, &((DeskNode *) nodes->pdata[i])->entry.id);
  for (guint i = self->conflicts->len; i-- > 0;)
    if (g_hash_table_contains (ids, &g_array_index (self->conflicts, CoreConflict, i).entry))
      g_array_remove_index (self->conflicts, i);
}

static void
resolve (DeskNaming *self,
         const GPtrArray *nodes,
         void (*changed) (const DeskNode *node, gpointer data),
         gpointer data)
{
  g_autofree const CoreEntry **entries = g_new (const CoreEntry *, nodes->len);
  g_autofree guint8 *live = g_new0 (guint8, nodes->len);
  CoreConflict *conflicts = NULL;
  size_t n_conflicts = 0;

  for (guint i = 0; i < nodes->len; i++)
    entries[i] = &((DeskNode *) nodes->pdata[i])->entry;
  forget_conflicts (self, nodes);
  if (core_live (entries, nodes->len, live, &conflicts, &n_conflicts) != CORE_OK)
    g_error ("out of memory while resolving entries");
  for (guint i = 0; i < nodes->len; i++)
    {
      DeskNode *node = nodes->pdata[i];

      if (node->live == live[i])
        continue;
      node->live = live[i];
      changed (node, data);
    }
  if (n_conflicts > 0)
    g_array_append_vals (self->conflicts, conflicts, (guint) n_conflicts);
  free (conflicts);
}

void
desk_naming_resolve (DeskNaming *self,
                    const GPtrArray *nodes,
                    void (*changed) (const DeskNode *node, gpointer data),
                    gpointer data)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < nodes->len; i++)
    if (!g_hash_table_contains (seen, nodes->pdata[i]))
      {
        g_autoptr (GPtrArray) together = component (self, nodes->pdata[i], seen);

        resolve (self, together, changed, data);
      }
}
