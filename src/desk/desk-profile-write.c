/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-profile-write.c — editing a copy of a profile, taking one in from a file, giving one out.
 *
 * Whatever is meant, what is written is the difference between the whole profile as it is to be
 * and the shipped one, part by part; the whole is read like any file before a word of it is kept.
 */
#include <glib/gstdio.h>
#include <string.h>

#include "desk/desk-backup-private.h"
#include "desk/desk-profile-private.h"
#include "exchange/exch-file.h"

#define MAX_VALUE 4000 /* bytes of a setting: core-value.c */

/* ---- what all of them write ---- */

/* The shipped profile as lines; NULL = there is none. */
static GKeyFile *
shipped_doc (Desk *self, const char *scientific)
{
  const DeskProfiles *shipped =
    self->profiles->shipped != NULL ? self->profiles->shipped : self->profiles;
  const CoreProfile *base = desk_kind_shipped (self->profiles, scientific);

  return base != NULL ? exch_doc_new (exch_profiles_text (shipped->set, base)) : NULL;
}

/* A setting whose key another species has already: the same six digits. */
static gboolean
is_free (const char *now, const char *scientific, GError **error)
{
  gsize n = strlen (scientific);

  if (now == NULL || (strncmp (now, scientific, n) == 0 && now[n] == DESK_KIND_BREAK))
    return TRUE;
  desk_fail (error, DESK_ERROR, DESK_ERROR_EXISTS, WORDS_DESK_PROFILE_TAKEN, scientific, NULL);
  return FALSE;
}

/* What follows the species and the hash; "" = nothing. */
static const char *
lines_of (const char *value)
{
  const char *first = value != NULL ? strchr (value, DESK_KIND_BREAK) : NULL;
  const char *second = first != NULL ? strchr (first + 1, DESK_KIND_BREAK) : NULL;

  return second != NULL ? second + 1 : "";
}

/* One part of the copy, where it is not what it is. */
static gboolean
write_part (DeskOp *op,
            const char *scientific,
            const char *hash,
            const char *part,
            const char *lines,
            GError **error)
{
  Desk *self = op->desk;
  g_autofree char *key = desk_kind_key (scientific, part);
  g_autofree char *value = desk_kind_value (scientific, hash, lines);
  const char *now = desk_journal_setting (self, key);
  CoreEntry *entry;

  if (!is_free (now, scientific, error))
    return FALSE;
  if (strcmp (lines_of (now), lines_of (value)) == 0)
    return TRUE;
  if (strlen (value) > MAX_VALUE)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PROFILE_TOO_LONG, part, NULL);
      return FALSE;
    }
  entry = desk_op_entry (op, CORE_KIND_SET, desk_journal_id (self), self->today);
  if (core_entry_set_str (entry, CORE_KEY_KEY, key) != CORE_VALUE_OK ||
      core_entry_set_str (entry, CORE_KEY_VALUE, value) != CORE_VALUE_OK)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PROFILE_TOO_LONG, part, NULL);
      return FALSE;
    }
  return TRUE;
}

/* `whole` NULL: nothing of the keeper's own is left. */
static gboolean
write_copy (DeskOp *op, const char *scientific, GKeyFile *whole, GError **error)
{
  g_autoptr (GKeyFile) base = shipped_doc (op->desk, scientific);
  g_autoptr (GKeyFile) diff =
    whole != NULL ? exch_doc_diff (whole, base) : g_key_file_new ();
  const CoreProfile *shipped = desk_kind_shipped (op->desk->profiles, scientific);

  for (const char *const *part = exch_doc_parts (); *part != NULL; part++)
    {
      g_autofree char *lines = exch_doc_part (diff, *part);

      if (!write_part (op, scientific, shipped != NULL ? shipped->hash : NULL, *part, lines, error))
        return FALSE;
    }
  return desk_op_check (op, error);
}

/* Would it be read? On FALSE *why is the reason, owned. */
static gboolean
is_sound (GKeyFile *doc, char **why, GError **error)
{
  g_autofree char *text = exch_doc_text (doc, NULL);
  CoreProfile profile;

  if (!exch_profile_parse_why ("", text, strlen (text), &profile, why, error))
    return FALSE;
  core_profile_clear (&profile);
  return TRUE;
}

/* ---- editing ---- */

typedef struct
{
  char *species;
  char **edits;
} Edit;

static void
edit_free (gpointer data)
{
  Edit *self = data;

  g_free (self->species);
  g_strfreev (self->edits);
  g_free (self);
}

/* "care.mist=1;2" or "care.mist": *typed NULL = back to the shipped value. */
static void
split_edit (const char *edit, char **group, char **key, const char **typed)
{
  const char *equals = strchr (edit, '=');
  g_autofree char *name = equals != NULL ? g_strndup (edit, (gsize) (equals - edit)) : g_strdup (edit);
  char *dot = strrchr (name, '.');

  *typed = equals != NULL ? equals + 1 : NULL;
  *group = dot != NULL ? g_strndup (name, (gsize) (dot - name)) : g_strdup ("");
  *key = g_strdup (dot != NULL ? dot + 1 : name);
}

static const ExchValue *
find_value (GPtrArray *values, const char *group, const char *key)
{
  for (guint i = 0; i < values->len; i++)
    {
      const ExchValue *value = values->pdata[i];

      if (strcmp (value->group, group) == 0 && strcmp (value->key, key) == 0)
        return value;
    }
  return NULL;
}

/* What the keeper calls by name is what makes it that kind. */
static gboolean
is_fixed (const char *group, const char *key)
{
  return strcmp (group, "profile") == 0 &&
         (strcmp (key, "scientific") == 0 || strcmp (key, "general") == 0);
}

static gboolean
apply_edit (GKeyFile *doc, GKeyFile *base, GPtrArray *values, const char *edit, GError **error)
{
  g_autofree char *group = NULL;
  g_autofree char *key = NULL;
  g_autofree char *stored = NULL;
  const char *typed;
  const ExchValue *value;

  split_edit (edit, &group, &key, &typed);
  value = find_value (values, group, key);
  if (value == NULL || is_fixed (group, key))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PROFILE_NO_VALUE, edit, NULL);
      return FALSE;
    }
  if (typed == NULL)
    {
      g_autoptr (GKeyFile) none = g_key_file_new ();

      exch_doc_take (doc, base != NULL ? base : none, group, key);
      return TRUE;
    }
  stored = exch_value_from_typed (value, typed);
  if (strpbrk (stored, "\r\n") != NULL)
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PROFILE_NO_VALUE, edit, NULL);
      return FALSE;
    }
  exch_doc_set_own (doc, group, key, stored);
  if (base != NULL && exch_doc_value_is_same (doc, base, group, key))
    exch_doc_take (doc, base, group, key); /* typed as it is shipped: nothing of one's own */
  return TRUE;
}

static void
fail_edits (char **edits, const char *why, GError **error)
{
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; edits[i] != NULL; i++)
    g_string_append_printf (names, "%s%.*s", i > 0 ? ", " : "", (int) strcspn (edits[i], "="),
                            edits[i]);
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PROFILE_VALUE, names->str, why, NULL);
}

static gboolean
prepare_edit (Desk *self, DeskOp *op, GError **error)
{
  const Edit *edit = op->data;
  const CoreProfile *profile = desk_profiles_find (self->profiles, edit->species, error);
  g_autoptr (GKeyFile) doc = NULL;
  g_autoptr (GKeyFile) base = NULL;
  g_autoptr (GPtrArray) values = NULL;
  g_autofree char *why = NULL;
  const char *text;

  if (profile == NULL)
    return FALSE;
  text = exch_profiles_text (self->profiles->set, profile);
  doc = exch_doc_new (text);
  base = shipped_doc (self, profile->scientific);
  values = exch_profile_values (profile, text);
  for (guint i = 0; edit->edits[i] != NULL; i++)
    if (!apply_edit (doc, base, values, edit->edits[i], error))
      return FALSE;
  if (!is_sound (doc, &why, NULL))
    {
      fail_edits (edit->edits, why != NULL ? why : "?", error);
      return FALSE;
    }
  return write_copy (op, profile->scientific, doc, error);
}

static Edit *
edit_new (const char *species, const char *const *edits)
{
  Edit *edit = g_new (Edit, 1);

  edit->species = g_strdup (species);
  edit->edits = g_strdupv ((char **) (guintptr) edits);
  return edit;
}

void
desk_profile_edit_async (Desk *self,
                         const char *species,
                         const char *const *edits,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  desk_op_start (self, prepare_edit, prepare_edit, edit_new (species, edits), edit_free,
                 cancellable, callback, data);
}

gboolean
desk_profile_edit_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return desk_op_finish (self, result, prepare_edit, error) != NULL;
}

char *
desk_profile_try (const DeskProfileView *view,
                  const char *group,
                  const char *key,
                  const char *typed,
                  char **stored)
{
  const char *text = exch_profiles_text (view->profiles->set, view->profile);
  g_autoptr (GPtrArray) values = exch_profile_values (view->profile, text);
  const ExchValue *value = find_value (values, group, key);

  *stored = value != NULL && !is_fixed (group, key) ? exch_value_from_typed (value, typed) : NULL;
  return *stored != NULL ? exch_profile_try (text, group, key, *stored) : g_strdup (key);
}

/* ---- back to what is shipped ---- */

static gboolean
prepare_reset (Desk *self, DeskOp *op, GError **error)
{
  const Edit *edit = op->data;
  const CoreProfile *profile = desk_profiles_find (self->profiles, edit->species, error);

  return profile != NULL && write_copy (op, profile->scientific, NULL, error);
}

void
desk_profile_reset_async (Desk *self,
                          const char *species,
                          GCancellable *cancellable,
                          GAsyncReadyCallback callback,
                          gpointer data)
{
  static const char *const none[] = { NULL };

  desk_op_start (self, prepare_reset, prepare_reset, edit_new (species, none), edit_free,
                 cancellable, callback, data);
}

gboolean
desk_profile_reset_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return desk_op_finish (self, result, prepare_reset, error) != NULL;
}

/* ---- a file that comes in ---- */

/* Tasks of a thread know nothing of the desk, so that it never ends there. */

typedef struct
{
  char *path;
  DeskProfiles *profiles; /* NULL = the shipped ones */
} Look;

static void
look_free (gpointer data)
{
  Look *self = data;

  g_free (self->path);
  g_clear_pointer (&self->profiles, desk_profiles_unref);
  g_free (self);
}

void
desk_profile_file_free (DeskProfileFile *self)
{
  if (self == NULL)
    return;
  g_free (self->text);
  g_free (self->scientific);
  g_free (self->common);
  g_ptr_array_unref (self->changes);
  g_free (self);
}

/* What a file says, over what is used now. */
static GKeyFile *
over (DeskProfiles *profiles, const CoreProfile *now, const char *text)
{
  g_autoptr (GKeyFile) doc = exch_doc_new (text);
  g_autoptr (GKeyFile) base =
    now != NULL ? exch_doc_new (exch_profiles_text (profiles->set, now)) : NULL;
  g_autoptr (GKeyFile) diff = exch_doc_diff (doc, base);

  return exch_doc_apply (base, diff);
}

/* The profile of just that species; NULL = there is none yet. */
static const CoreProfile *
profile_now (DeskProfiles *profiles, const CoreProfile *of)
{
  const CoreProfile *now = desk_profiles_for (profiles, of->scientific);

  /* The general one is also what stands in for a name that nobody knows. */
  return !now->general || strcmp (now->scientific, of->scientific) == 0 ? now : NULL;
}

/* Of a sound profile; NULL with an error where it cannot stand beside the others. */
static DeskProfileFile *
file_new (DeskProfiles *profiles, const CoreProfile *profile, const char *text, GError **error)
{
  const CoreProfile *now = profile_now (profiles, profile);
  g_autoptr (GKeyFile) whole = over (profiles, now, text);
  g_autofree char *whole_text = exch_doc_text (whole, NULL);
  g_autoptr (GKeyFile) doc = exch_doc_new (text);
  g_autoptr (GPtrArray) values = NULL;
  DeskProfileFile *self;
  CoreProfile then;

  if (profile->general != (now != NULL && now->general))
    {
      desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_PROFILE_GENERAL, NULL);
      return NULL;
    }
  if (!exch_profile_parse (profile->scientific, whole_text, strlen (whole_text), &then, error))
    return NULL;
  self = g_new0 (DeskProfileFile, 1);
  self->text = g_strdup (text);
  self->scientific = g_strdup (profile->scientific);
  self->common = g_strdup (profile->common);
  self->known = now != NULL;
  self->n_values = exch_doc_n_values (doc);
  values = desk_profile_values (&then, whole_text, now,
                                now != NULL ? exch_profiles_text (profiles->set, now) : NULL);
  self->changes = g_ptr_array_new_with_free_func (desk_profile_value_free);
  for (guint i = values->len; i > 0; i--)
    if (((DeskProfileValue *) values->pdata[i - 1])->own)
      g_ptr_array_insert (self->changes, 0, g_ptr_array_steal_index (values, i - 1));
  core_profile_clear (&then);
  return self;
}

static void
look_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Look *look = data;
  GError *error = NULL;
  g_autoptr (GFile) file = g_file_new_for_path (look->path);
  g_autofree char *name = g_file_get_basename (file);
  gsize length = 0;
  g_autofree char *text = exch_profile_read_file (file, &length, &error);
  g_autoptr (DeskProfiles) profiles = look->profiles != NULL ? desk_profiles_ref (look->profiles) : NULL;
  DeskProfileFile *found = NULL;
  CoreProfile profile;

  if (text != NULL && profiles == NULL)
    profiles = desk_profiles_load (&error);
  if (profiles != NULL && text != NULL && exch_profile_parse (name, text, length, &profile, &error))
    {
      found = file_new (profiles, &profile, text, &error);
      core_profile_clear (&profile);
    }
  if (found != NULL)
    g_task_return_pointer (task, found, (GDestroyNotify) desk_profile_file_free);
  else
    g_task_return_error (task, error);
}

void
desk_profile_look_async (Desk *self,
                         const char *path,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, data);
  Look *look = g_new (Look, 1);

  *look = (Look){ g_canonicalize_filename (path, NULL),
                  self != NULL ? desk_profiles_ref (self->profiles) : NULL };
  g_task_set_source_tag (task, desk_profile_look_async);
  g_task_set_task_data (task, look, look_free);
  g_task_run_in_thread (task, look_thread);
}

DeskProfileFile *
desk_profile_look_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_profile_look_async), NULL);

  return g_task_propagate_pointer (G_TASK (result), error);
}

static gboolean
prepare_take (Desk *self, DeskOp *op, GError **error)
{
  const Edit *edit = op->data;
  const char *text = edit->edits[0];
  const CoreProfile *now;
  g_autoptr (GKeyFile) whole = NULL;
  CoreProfile profile;

  if (!exch_profile_parse (edit->species, text, strlen (text), &profile, error))
    return FALSE;
  now = profile_now (self->profiles, &profile);
  core_profile_clear (&profile);
  whole = over (self->profiles, now, text);
  return is_sound (whole, NULL, error) &&
         write_copy (op, now != NULL ? now->scientific : edit->species, whole, error);
}

void
desk_profile_take_async (Desk *self,
                         const DeskProfileFile *file,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  const char *const text[] = { file->text, NULL };

  desk_op_start (self, prepare_take, prepare_take, edit_new (file->scientific, text), edit_free,
                 cancellable, callback, data);
}

gboolean
desk_profile_take_finish (Desk *self, GAsyncResult *result, GError **error)
{
  return desk_op_finish (self, result, prepare_take, error) != NULL;
}

/* ---- a file that goes out ---- */

typedef struct
{
  char *path, *text;
  gboolean replace;
} Give;

static void
give_free (gpointer data)
{
  Give *self = data;

  g_free (self->path);
  g_free (self->text);
  g_free (self);
}

static void
give_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Give *give = data;
  GError *error = NULL;

  exch_file_remove_leftovers (give->path);
  if (exch_file_make_of (give->path, give->text, strlen (give->text), give->replace, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

void
desk_profile_give_async (Desk *self,
                         const char *species,
                         const char *path,
                         gboolean replace,
                         GCancellable *cancellable,
                         GAsyncReadyCallback callback,
                         gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, data);
  GError *error = NULL;
  const CoreProfile *profile = desk_profiles_find (self->profiles, species, &error);
  g_autofree char *outside = g_canonicalize_filename (path, NULL);
  g_autoptr (GKeyFile) doc = NULL;
  Give *give;

  g_task_set_source_tag (task, desk_profile_give_async);
  if (profile == NULL || !desk_path_outside (outside, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  doc = exch_doc_new (exch_profiles_text (self->profiles->set, profile));
  give = g_new (Give, 1);
  *give = (Give){ g_steal_pointer (&outside), exch_doc_text (doc, NULL), replace };
  g_task_set_task_data (task, give, give_free);
  g_task_run_in_thread (task, give_thread);
}

gboolean
desk_profile_give_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_profile_give_async), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}

char *
desk_profile_file_name (const CoreProfile *profile)
{
  return g_strdup_printf ("%s.profile", profile->id);
}
