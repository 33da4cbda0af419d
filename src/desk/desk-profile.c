/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-profile.c — the shipped profiles with the keeper's own, and their values one by one.
 *
 * Invariant: `profiles` of a desk is what the settings of its journal say, whatever came in by
 * undo, a merge or another program; a copy that does not fit is left out and named.
 */
#include "desk/desk-profile.h"

#include <string.h>

#include "desk/desk-profile-private.h"

/* ---- copies in the settings of a journal ---- */

char *
desk_kind_key (const char *scientific, const char *part)
{
  g_autofree char *folded = g_utf8_casefold (scientific, -1);
  g_autofree char *sum = g_compute_checksum_for_string (G_CHECKSUM_SHA256, folded, -1);

  return g_strdup_printf (DESK_KIND "%.6s.%s", sum, part);
}

char *
desk_kind_value (const char *scientific, const char *hash, const char *lines)
{
  char *value = g_strdup_printf ("%s\n%s\n%s", scientific, hash != NULL ? hash : "-", lines);

  return g_strdelimit (value, "\n", DESK_KIND_BREAK);
}

void
desk_kind_copy_free (gpointer data)
{
  DeskKindCopy *self = data;

  g_free (self->scientific);
  g_free (self->hash);
  g_key_file_unref (self->diff);
  g_free (self);
}

static DeskKindCopy *
copy_of (GPtrArray *copies, const char *scientific)
{
  DeskKindCopy *copy;

  for (guint i = 0; i < copies->len; i++)
    {
      copy = copies->pdata[i];
      if (strcmp (copy->scientific, scientific) == 0)
        return copy;
    }
  copy = g_new0 (DeskKindCopy, 1);
  copy->scientific = g_strdup (scientific);
  copy->diff = g_key_file_new ();
  g_ptr_array_add (copies, copy);
  return copy;
}

/* One setting: the species, the hash of the shipped one, lines. */
static void
read_setting (GPtrArray *copies, const CoreSetting *setting)
{
  const char *part = strrchr (setting->key, '.');
  g_autofree char *value = g_strdelimit (g_strdup (setting->value), DESK_KIND_BREAKS, '\n');
  g_auto (GStrv) three = g_strsplit (value, "\n", 3);
  DeskKindCopy *copy;

  if (part == NULL || g_strv_length (three) != 3 || three[2][0] == '\0')
    return;
  copy = copy_of (copies, three[0]);
  g_free (copy->hash);
  copy->hash = g_strdup (three[1]);
  if (!exch_doc_add_part (copy->diff, part + 1, three[2]))
    copy->broken = TRUE;
}

GPtrArray *
desk_kind_copies (Desk *self)
{
  GPtrArray *copies = g_ptr_array_new_with_free_func (desk_kind_copy_free);
  DeskRecord *record = desk_collection_record (&self->all, desk_journal_id (self));
  const CoreState *state =
    record != NULL && record->now != NULL ? desk_subject_state (record->now) : NULL;

  for (size_t i = 0; state != NULL && i < state->settings.n; i++)
    if (g_str_has_prefix (state->settings.v[i].key, DESK_KIND))
      read_setting (copies, &state->settings.v[i]);
  return copies;
}

char *
desk_kind_text (DeskProfiles *shipped, const DeskKindCopy *copy)
{
  const CoreProfile *base = desk_kind_shipped (shipped, copy->scientific);
  g_autoptr (GKeyFile) doc =
    base != NULL ? exch_doc_new (exch_profiles_text (shipped->set, base)) : NULL;
  g_autoptr (GKeyFile) whole = exch_doc_apply (doc, copy->diff);

  return exch_doc_text (whole, NULL);
}

/* ---- sets ---- */

static DeskProfiles *
profiles_new (ExchProfiles *set, DeskProfiles *shipped)
{
  DeskProfiles *self = g_atomic_rc_box_new0 (DeskProfiles);

  self->set = set;
  self->shipped = shipped;
  self->list = g_ptr_array_new ();
  for (gsize i = 0; i < exch_profiles_count (set); i++)
    g_ptr_array_add (self->list, (gpointer) (guintptr) exch_profiles_nth (set, i));
  return self;
}

DeskProfiles *
desk_profiles_load (GError **error)
{
  ExchProfiles *set = exch_profiles_load (error);

  return set != NULL ? profiles_new (set, NULL) : NULL;
}

static void
profiles_clear (gpointer data)
{
  DeskProfiles *self = data;

  g_ptr_array_unref (self->list);
  exch_profiles_free (self->set);
  g_clear_pointer (&self->copies, g_ptr_array_unref);
  g_clear_pointer (&self->why, g_ptr_array_unref);
  g_clear_pointer (&self->shipped, desk_profiles_unref);
}

DeskProfiles *
desk_profiles_ref (DeskProfiles *self)
{
  return g_atomic_rc_box_acquire (self);
}

void
desk_profiles_unref (DeskProfiles *self)
{
  g_atomic_rc_box_release_full (self, profiles_clear);
}

DeskProfiles *
desk_profiles_of (Desk *self)
{
  return desk_profiles_ref (self->profiles);
}

char *
desk_profiles_key (DeskProfiles *self)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  const DeskProfiles *shipped = self->shipped != NULL ? self->shipped : self;

  for (guint i = 0; i < shipped->list->len; i++)
    {
      const CoreProfile *profile = shipped->list->pdata[i];

      g_checksum_update (sum, (const guchar *) profile->hash, -1);
    }
  return g_strdup (g_checksum_get_string (sum));
}

GPtrArray *
desk_profiles_species (DeskProfiles *self)
{
  GPtrArray *out = g_ptr_array_new ();

  for (guint i = 0; i < self->list->len; i++)
    if (!((const CoreProfile *) self->list->pdata[i])->general)
      g_ptr_array_add (out, self->list->pdata[i]);
  return out;
}

const GPtrArray *
desk_profiles_list (DeskProfiles *self)
{
  return self->list;
}

const CoreProfile *
desk_kind_shipped (DeskProfiles *profiles, const char *scientific)
{
  const DeskProfiles *shipped = profiles->shipped != NULL ? profiles->shipped : profiles;
  const CoreProfile *found = exch_profiles_for_species (shipped->set, scientific);

  return !found->general || g_strcmp0 (found->scientific, scientific) == 0 ? found : NULL;
}

const CoreProfile *
desk_profiles_for (DeskProfiles *self, const char *scientific)
{
  return exch_profiles_for_species (self->set, scientific);
}

/* The shipped ones with those copies; takes both. */
static DeskProfiles *
with_copies (DeskProfiles *shipped, GPtrArray *copies)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  GPtrArray *why = g_ptr_array_new_with_free_func (g_free);
  DeskProfiles *self;

  for (guint i = 0; i < copies->len; i++)
    {
      const DeskKindCopy *copy = copies->pdata[i];

      g_ptr_array_add (texts, copy->broken ? g_strdup ("?") : desk_kind_text (shipped, copy));
    }
  self = profiles_new (exch_profiles_with (shipped->set, texts, why), shipped);
  self->copies = copies;
  self->why = why;
  return self;
}

static char *
settings_key (Desk *self)
{
  DeskRecord *record = desk_collection_record (&self->all, desk_journal_id (self));
  GString *out = g_string_new (NULL);
  const CoreState *state =
    record != NULL && record->now != NULL ? desk_subject_state (record->now) : NULL;

  for (size_t i = 0; state != NULL && i < state->settings.n; i++)
    if (g_str_has_prefix (state->settings.v[i].key, DESK_KIND))
      g_string_append_printf (out, "%s\n%s\n", state->settings.v[i].key, state->settings.v[i].value);
  return g_string_free (out, FALSE);
}

gboolean
desk_profiles_follow (Desk *self)
{
  g_autofree char *key = settings_key (self);
  DeskProfiles *old = self->profiles;
  DeskProfiles *shipped = old->shipped != NULL ? old->shipped : old;

  if (g_strcmp0 (key, self->kinds != NULL ? self->kinds : "") == 0)
    return FALSE;
  g_free (self->kinds);
  self->kinds = g_steal_pointer (&key);
  self->profiles = with_copies (desk_profiles_ref (shipped), desk_kind_copies (self));
  desk_profiles_unref (old);
  return TRUE;
}

GPtrArray *
desk_profile_problems (DeskProfiles *self)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; self->why != NULL && i < self->why->len; i++)
    if (self->why->pdata[i] != NULL)
      g_ptr_array_add (out, g_strdup_printf ("%s: %s",
                                             ((DeskKindCopy *) self->copies->pdata[i])->scientific,
                                             (char *) self->why->pdata[i]));
  return out;
}

/* ---- one of them ---- */

void
desk_profile_value_free (gpointer data)
{
  DeskProfileValue *self = data;

  g_free (self->group);
  g_free (self->key);
  g_free (self->value);
  g_free (self->from);
  g_free (self->other);
  g_free (self->other_from);
  g_free (self->note);
  g_free (self->note_de);
  g_free (self->shipped);
  g_free (self->shipped_from);
  g_free (self);
}

static void
source_free (gpointer data)
{
  DeskProfileSource *self = data;

  g_free (self->id);
  g_free (self->text);
  g_free (self);
}

/* What ExchValue has, taken over. */
static DeskProfileValue *
value_new (const ExchValue *from)
{
  DeskProfileValue *self = g_new0 (DeskProfileValue, 1);

  self->group = g_strdup (from->group);
  self->key = g_strdup (from->key);
  self->value = g_strdup (from->value);
  self->from = g_strdup (from->from);
  self->other = g_strdup (from->other);
  self->other_from = g_strdup (from->other_from);
  self->note = g_strdup (from->note);
  self->note_de = g_strdup (from->note_de);
  self->min = from->min;
  self->max = from->max;
  self->stands = from->stands;
  return self;
}

static const ExchValue *
same_value (GPtrArray *values, const ExchValue *value)
{
  for (guint i = 0; values != NULL && i < values->len; i++)
    {
      const ExchValue *other = values->pdata[i];

      if (strcmp (other->key, value->key) == 0 && strcmp (other->group, value->group) == 0)
        return other;
    }
  return NULL;
}

GPtrArray *
desk_profile_values (const CoreProfile *profile,
                     const char *text,
                     const CoreProfile *base,
                     const char *base_text)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (desk_profile_value_free);
  g_autoptr (GPtrArray) values = exch_profile_values (profile, text);
  g_autoptr (GPtrArray) before = base != NULL ? exch_profile_values (base, base_text) : NULL;
  g_autoptr (GKeyFile) doc = exch_doc_new (text);
  g_autoptr (GKeyFile) base_doc = base != NULL ? exch_doc_new (base_text) : NULL;

  for (guint i = 0; i < values->len; i++)
    {
      const ExchValue *value = values->pdata[i];
      const ExchValue *was = same_value (before, value);
      DeskProfileValue *row = value_new (value);

      if (was != NULL)
        {
          row->shipped = g_strdup (was->value);
          row->shipped_from = g_strdup (was->from);
        }
      row->own = base_doc != NULL ? !exch_doc_is_same (doc, base_doc, value->group, value->key)
                                  : value->stands;
      g_ptr_array_add (out, row);
    }
  return out;
}

static GPtrArray *
sources_of (const char *text)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (source_free);
  g_autoptr (GKeyFile) doc = exch_doc_new (text);
  g_auto (GStrv) ids = g_key_file_get_keys (doc, "sources", NULL, NULL);

  for (guint i = 0; ids != NULL && ids[i] != NULL; i++)
    {
      DeskProfileSource *source = g_new (DeskProfileSource, 1);

      source->id = g_strdup (ids[i]);
      source->text = exch_profile_source (text, ids[i]);
      g_ptr_array_add (out, source);
    }
  return out;
}

static void
note_copy (DeskProfileView *view, const CoreProfile *base)
{
  const DeskProfiles *profiles = view->profiles;

  for (guint i = 0; profiles->copies != NULL && i < profiles->copies->len; i++)
    {
      const DeskKindCopy *copy = profiles->copies->pdata[i];

      if (strcmp (copy->scientific, view->profile->scientific) != 0)
        continue;
      view->problem = g_strdup (profiles->why->pdata[i]);
      view->moved_on = base != NULL && g_strcmp0 (copy->hash, base->hash) != 0;
    }
}

DeskProfileView *
desk_profiles_view (DeskProfiles *self, const char *species, GError **error)
{
  const CoreProfile *profile = desk_profiles_find (self, species, error);
  const DeskProfiles *shipped = self->shipped != NULL ? self->shipped : self;
  const CoreProfile *base;
  const char *text;
  DeskProfileView *view;

  if (profile == NULL)
    return NULL;
  base = desk_kind_shipped (self, profile->scientific);
  text = exch_profiles_text (self->set, profile);
  view = g_new0 (DeskProfileView, 1);
  view->profiles = desk_profiles_ref (self);
  view->profile = profile;
  view->shipped = base != NULL;
  view->values = desk_profile_values (profile, text, base,
                                      base != NULL ? exch_profiles_text (shipped->set, base) : NULL);
  view->sources = sources_of (text);
  for (guint i = 0; i < view->values->len; i++)
    view->n_own += ((DeskProfileValue *) view->values->pdata[i])->own ? 1 : 0;
  note_copy (view, base);
  return view;
}

DeskProfileView *
desk_profile_view (Desk *self, const char *species, GError **error)
{
  return desk_profiles_view (self->profiles, species, error);
}

void
desk_profile_view_free (DeskProfileView *self)
{
  if (self == NULL)
    return;
  g_ptr_array_unref (self->values);
  g_ptr_array_unref (self->sources);
  desk_profiles_unref (self->profiles);
  g_free (self->problem);
  g_free (self);
}

const DeskProfileValue *
desk_profile_value (const DeskProfileView *self, const char *group, const char *key)
{
  for (guint i = 0; i < self->values->len; i++)
    {
      const DeskProfileValue *value = self->values->pdata[i];

      if (strcmp (value->key, key) == 0 && strcmp (value->group, group) == 0)
        return value;
    }
  return NULL;
}

gboolean
desk_profile_is_own (DeskProfiles *self, const CoreProfile *profile)
{
  return desk_kind_shipped (self, profile->scientific) != profile;
}
