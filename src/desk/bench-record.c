/* SPDX-License-Identifier: GPL-3.0-or-later */
/* bench-record.c — from the bench to the journal and back: the entry, the draft, the verdict. */
#include "desk/bench-private.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* ---- the entry ---- */

static void
append_number (GString *out, double value, int decimals)
{
  char buffer[64];

  core_number_format (value, decimals, buffer);
  g_string_append_printf (out, "%s%s", out->len == 0 ? "" : ",", buffer);
}

static void
set_axis (CoreEntry *entry, BenchModel *self)
{
  const BenchDoc *doc = &self->doc;
  double axis[2 * IMG_STRIP_MAX_MARKS];
  int n = bench_axis (doc, axis);
  g_autoptr (GString) text = g_string_new (NULL);

  for (int i = 0; i < 2 * n; i++)
    append_number (text, axis[i], 2);
  if (n == 0)
    return;
  core_entry_set_str (entry, CORE_KEY_AXIS, text->str);
  if (bench_model_axis_asked (self) && !doc->axis_right)
    core_entry_set_num (entry, CORE_KEY_AXIS_BY, CORE_BY_PROGRAM);
}

static void
set_lines (CoreEntry *entry, const BenchDoc *doc)
{
  g_autoptr (GString) text = g_string_new (NULL);

  if (doc->n_lines == 0)
    return;
  for (int i = 0; i < doc->n_lines; i++)
    append_number (text, doc->line[i].at, 5);
  core_entry_set_str (entry, CORE_KEY_BOUNDS, text->str);
  core_entry_set_num (entry, CORE_KEY_COUNT, doc->n_lines + 1);
  core_entry_set_num (entry, CORE_KEY_BY,
                      doc->confirmed || doc->edited ? CORE_BY_KEEPER : CORE_BY_PROGRAM);
}

/* What the picture alone says, without the keeper's edits: kept beside the count. */
static void
set_likelihood (CoreEntry *entry, BenchModel *self)
{
  const ImgFindResult *found = self->found;
  g_autoptr (GString) text = g_string_new (NULL);

  if (found == NULL || found->status != IMG_STRIP_OK || !found->usable)
    return;
  for (int i = 0; i < CORE_SEGMENT_COUNTS; i++)
    {
      char weight[64];

      core_number_format (self->as_found.likelihood[i], 6, weight);
      g_string_append_printf (text, "%s%d:%s", i == 0 ? "" : ",",
                              i == 0 ? 0 : CORE_SEGMENT_MIN + i - 1, weight);
    }
  core_entry_set_str (entry, CORE_KEY_LIKELIHOOD, text->str);
}

static void
set_answer (CoreEntry *entry, CoreKey key, int answer)
{
  if (answer >= 0)
    core_entry_set_num (entry, key, answer);
}

static void
set_ratios (CoreEntry *entry, BenchModel *self)
{
  double ratio, sd;

  if (bench_model_wing_ratio (self, &ratio, &sd))
    {
      core_entry_set_num (entry, CORE_KEY_WING_RATIO, ratio);
      if (isfinite (sd))
        core_entry_set_num (entry, CORE_KEY_WING_SD, sd);
    }
  if (bench_model_tegmen_pronotum (self, &ratio, &sd))
    {
      core_entry_set_num (entry, CORE_KEY_TEGMEN_PRONOTUM, ratio);
      if (isfinite (sd))
        core_entry_set_num (entry, CORE_KEY_TEGMEN_PRONOTUM_SD, sd);
    }
}

CoreEntry *
bench_entry (BenchModel *self)
{
  const BenchDoc *doc = &self->doc;
  CoreEntry *entry = core_entry_new (CORE_KIND_MARKED);

  if (entry == NULL)
    g_error ("out of memory");
  entry->subject = desk_subject_id (self->subject);
  entry->day = desk_today (self->desk);
  /* What was recorded before may have been taken back meanwhile. */
  if (desk_entry_is_live (self->desk, self->replaces))
    entry->names = self->replaces;
  core_entry_set_ref (entry, CORE_KEY_PHOTO, self->photo);
  set_answer (entry, CORE_KEY_SIDE, doc->side);
  set_answer (entry, CORE_KEY_OF, doc->of);
  if (doc->side == CORE_SIDE_UNDERSIDE)
    {
      set_axis (entry, self);
      set_lines (entry, doc);
      set_likelihood (entry, self);
      set_answer (entry, CORE_KEY_SMALL_PLATE, doc->small_plate);
      set_answer (entry, CORE_KEY_CONVENTION, doc->convention);
      set_answer (entry, CORE_KEY_LAST_PLATE, doc->last_plate);
    }
  set_ratios (entry, self);
  if (doc->cue[0] != '\0')
    {
      g_autofree char *cue =
        g_strdup_printf ("%s:%s", doc->cue, doc->cue_sex == CORE_SEX_MALE ? "male" : "female");

      core_entry_set_str (entry, CORE_KEY_CUE, cue);
    }
  return entry;
}

static void
axis_from_entry (BenchDoc *doc, const CoreEntry *entry)
{
  static const BenchMark bends[] = { BENCH_MARK_BEND, BENCH_MARK_BEND_2, BENCH_MARK_BEND_3 };
  double xy[2 * IMG_STRIP_MAX_MARKS];
  gsize n = core_entry_list (entry, CORE_KEY_AXIS, xy, G_N_ELEMENTS (xy)) / 2;

  if (n < 2)
    return;
  doc->has[BENCH_MARK_BASE] = doc->has[BENCH_MARK_TIP] = TRUE;
  doc->mark[BENCH_MARK_BASE] = (CorePoint){ xy[0], xy[1] };
  doc->mark[BENCH_MARK_TIP] = (CorePoint){ xy[2 * n - 2], xy[2 * n - 1] };
  for (gsize i = 1; i + 1 < n; i++)
    {
      doc->has[bends[i - 1]] = TRUE;
      doc->mark[bends[i - 1]] = (CorePoint){ xy[2 * i], xy[2 * i + 1] };
    }
}

static void
cue_from_entry (BenchDoc *doc, const CoreEntry *entry)
{
  g_auto (GStrv) cue = g_strsplit (core_entry_str (entry, CORE_KEY_CUE), ":", 2);

  if (g_strv_length (cue) != 2)
    return;
  g_strlcpy (doc->cue, cue[0], sizeof doc->cue);
  doc->cue_sex = strcmp (cue[1], "male") == 0 ? CORE_SEX_MALE : CORE_SEX_FEMALE;
}

void
bench_doc_from_entry (BenchDoc *doc, const CoreEntry *entry)
{
  double at[BENCH_MAX_BOUNDARIES];
  gsize n = core_entry_list (entry, CORE_KEY_BOUNDS, at, G_N_ELEMENTS (at));

  doc->side = core_entry_code (entry, CORE_KEY_SIDE, -1);
  doc->of = core_entry_code (entry, CORE_KEY_OF, -1);
  doc->small_plate = core_entry_code (entry, CORE_KEY_SMALL_PLATE, -1);
  doc->convention = core_entry_code (entry, CORE_KEY_CONVENTION, -1);
  doc->last_plate = core_entry_code (entry, CORE_KEY_LAST_PLATE, -1);
  doc->wing_ratio = core_entry_num (entry, CORE_KEY_WING_RATIO, NAN);
  doc->wing_sd = core_entry_num (entry, CORE_KEY_WING_SD, NAN);
  doc->tegmen_pronotum = core_entry_num (entry, CORE_KEY_TEGMEN_PRONOTUM, NAN);
  doc->tegmen_pronotum_sd = core_entry_num (entry, CORE_KEY_TEGMEN_PRONOTUM_SD, NAN);
  axis_from_entry (doc, entry);
  doc->suggested = core_entry_code (entry, CORE_KEY_AXIS_BY, CORE_BY_KEEPER) == CORE_BY_PROGRAM;
  doc->placed = doc->suggested ? IMG_FIND_BASE | IMG_FIND_TIP : 0;
  cue_from_entry (doc, entry);
  doc->n_lines = (int) n;
  for (gsize i = 0; i < n; i++)
    doc->line[i] = (BenchLine){ at[i], 0, TRUE };
  doc->edited = doc->confirmed =
    n > 0 && core_entry_code (entry, CORE_KEY_BY, CORE_BY_PROGRAM) == CORE_BY_KEEPER;
}

/* ---- the draft ---- */

char *
bench_draft_key (BenchModel *self)
{
  char id[37];

  core_id_to_text (self->photo, id);
  return g_strdup_printf ("bench:%s", id);
}

static const char group[] = "bench";

static void
put_number (GKeyFile *file, const char *key, double value)
{
  char buffer[64];

  if (!isfinite (value))
    return;
  core_number_format (value, 6, buffer);
  g_key_file_set_string (file, group, key, buffer);
}

static double
get_number (GKeyFile *file, const char *key, double fallback)
{
  g_autofree char *text = g_key_file_get_string (file, group, key, NULL);
  double value;

  return text != NULL && core_number_parse (text, &value) ? value : fallback;
}

static int
get_whole (GKeyFile *file, const char *key, int min, int max, int fallback)
{
  double value = get_number (file, key, fallback);

  return value >= min && value <= max && value == floor (value) ? (int) value : fallback;
}

char *
bench_doc_to_text (const BenchDoc *doc, BenchStep step)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  char key[32];

  g_key_file_set_integer (file, group, "version", 1);
  put_number (file, "step", (int) step);
  put_number (file, "side", doc->side);
  put_number (file, "of", doc->of);
  put_number (file, "small_plate", doc->small_plate);
  put_number (file, "last_plate", doc->last_plate);
  put_number (file, "convention", doc->convention);
  put_number (file, "edited", doc->edited);
  put_number (file, "confirmed", doc->confirmed);
  put_number (file, "suggested", doc->suggested);
  put_number (file, "placed", doc->placed);
  put_number (file, "axis_right", doc->axis_right);
  put_number (file, "wing_ratio", doc->wing_ratio);
  put_number (file, "wing_sd", doc->wing_sd);
  put_number (file, "tegmen_pronotum", doc->tegmen_pronotum);
  put_number (file, "tegmen_pronotum_sd", doc->tegmen_pronotum_sd);
  put_number (file, "cue_sex", doc->cue_sex);
  if (doc->cue[0] != '\0')
    g_key_file_set_string (file, group, "cue", doc->cue);
  for (int i = 0; i < BENCH_N_MARKS; i++)
    if (doc->has[i])
      {
        g_snprintf (key, sizeof key, "mark%d_x", i);
        put_number (file, key, doc->mark[i].x);
        g_snprintf (key, sizeof key, "mark%d_y", i);
        put_number (file, key, doc->mark[i].y);
      }
  put_number (file, "lines", doc->n_lines);
  for (int i = 0; i < doc->n_lines; i++)
    {
      g_snprintf (key, sizeof key, "line%d", i);
      put_number (file, key, doc->line[i].at);
      g_snprintf (key, sizeof key, "keeper%d", i);
      put_number (file, key, doc->line[i].by_keeper);
    }
  return g_key_file_to_data (file, NULL, NULL);
}

static void
get_marks (GKeyFile *file, BenchDoc *doc)
{
  for (int i = 0; i < BENCH_N_MARKS; i++)
    {
      char key[32];

      g_snprintf (key, sizeof key, "mark%d_x", i);
      doc->mark[i].x = get_number (file, key, NAN);
      g_snprintf (key, sizeof key, "mark%d_y", i);
      doc->mark[i].y = get_number (file, key, NAN);
      doc->has[i] = isfinite (doc->mark[i].x) && isfinite (doc->mark[i].y);
      if (!doc->has[i])
        doc->mark[i] = (CorePoint){ 0, 0 };
    }
}

static void
get_lines (GKeyFile *file, BenchDoc *doc)
{
  double last = 0;

  doc->n_lines = get_whole (file, "lines", 0, BENCH_MAX_BOUNDARIES, 0);
  for (int i = 0; i < doc->n_lines; i++)
    {
      char key[32];

      g_snprintf (key, sizeof key, "line%d", i);
      doc->line[i].at = get_number (file, key, -1);
      g_snprintf (key, sizeof key, "keeper%d", i);
      doc->line[i].by_keeper = get_whole (file, key, 0, 1, 0);
      if (!(doc->line[i].at > last && doc->line[i].at < 1))
        {
          doc->n_lines = 0;
          return;
        }
      last = doc->line[i].at;
    }
}

/* A draft of another version, or one that makes no sense, is no draft. */
gboolean
bench_doc_from_text (BenchDoc *doc, const char *text, BenchStep *step)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *cue = NULL;

  bench_doc_init (doc);
  if (!g_key_file_load_from_data (file, text, strlen (text), G_KEY_FILE_NONE, NULL) ||
      get_whole (file, "version", 1, 1, 0) != 1)
    return FALSE;
  *step = (BenchStep) get_whole (file, "step", 0, BENCH_STEP_VERDICT, BENCH_STEP_WHAT);
  doc->side = get_whole (file, "side", 0, CORE_SIDE_FLANK, -1);
  doc->of = get_whole (file, "of", 0, CORE_OF_SHED, -1);
  doc->small_plate = get_whole (file, "small_plate", 0, CORE_SMALL_UNKNOWN, -1);
  doc->last_plate = get_whole (file, "last_plate", 0, CORE_LAST_UNCLEAR, -1);
  doc->convention = get_whole (file, "convention", 0, CORE_CONVENTION_UNKNOWN, -1);
  doc->edited = get_whole (file, "edited", 0, 1, 0);
  doc->confirmed = get_whole (file, "confirmed", 0, 1, 0);
  doc->suggested = get_whole (file, "suggested", 0, 1, 0);
  doc->placed = get_whole (file, "placed", 0, IMG_FIND_BASE | IMG_FIND_TIP, doc->suggested ? IMG_FIND_BASE | IMG_FIND_TIP : 0);
  doc->axis_right = get_whole (file, "axis_right", 0, 1, 0);
  doc->wing_ratio = get_number (file, "wing_ratio", NAN);
  doc->wing_sd = get_number (file, "wing_sd", NAN);
  doc->tegmen_pronotum = get_number (file, "tegmen_pronotum", NAN);
  doc->tegmen_pronotum_sd = get_number (file, "tegmen_pronotum_sd", NAN);
  cue = g_key_file_get_string (file, group, "cue", NULL);
  doc->cue_sex = (CoreSex) get_whole (file, "cue_sex", 0, CORE_SEX_FEMALE, 0);
  if (cue != NULL && doc->cue_sex != CORE_SEX_UNKNOWN)
    g_strlcpy (doc->cue, cue, sizeof doc->cue);
  get_marks (file, doc);
  get_lines (file, doc);
  return TRUE;
}

/* ---- the verdict ---- */

/* The subject as it is now, with this picture's reading instead of an earlier one of it. */
const CoreSexVerdict *
bench_model_verdict (BenchModel *self)
{
  g_autoptr (GPtrArray) more = g_ptr_array_new ();
  g_autoptr (DeskFold) fold = NULL;
  CoreEntry *entry;

  if (self->verdict_fresh)
    return &self->verdict;
  core_sex_verdict_clear (&self->verdict);
  entry = bench_entry (self);
  memset (entry->id.b, 0xff, sizeof entry->id.b);
  g_ptr_array_add (more, entry);
  fold = desk_collection_fold (&self->desk->all, desk_subject_id (self->subject),
                               desk_subject_kind (self->subject),
                               &(DeskFoldHow){ self->replaces, more, CORE_DAY_NONE }, NULL);
  if (fold == NULL) /* what is marked cannot be weighed with what cannot be read */
    fold = desk_fold_ref (desk_subject_fold (self->subject));
  if (core_sex_of_state (desk_subject_profile (self->subject), &fold->state, &self->verdict) !=
      CORE_OK)
    g_error ("out of memory while weighing the sex");
  core_entry_free (entry);
  self->verdict_fresh = TRUE;
  return &self->verdict;
}

/* ---- recording ---- */

static void
recorded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GTask) task = data;
  BenchModel *self = g_task_get_source_object (task);
  g_autofree char *key = bench_draft_key (self);
  GError *error = NULL;
  CoreId id;

  self->recording = FALSE;
  if (!desk_write_finish (DESK_DESK (source), result, &id, &error))
    {
      g_task_return_error (task, error);
      return;
    }
  self->replaces = id;
  desk_draft_set (self->desk, key, NULL);
  g_clear_pointer (&self->subject, desk_subject_unref);
  self->subject = desk_get (self->desk, desk_entry (self->desk, id)->subject);
  self->verdict_fresh = FALSE;
  g_signal_emit_by_name (self, "changed");
  g_task_return_boolean (task, TRUE);
}

void
bench_model_record_async (BenchModel *self, GAsyncReadyCallback callback, gpointer data)
{
  GTask *task = g_task_new (self, NULL, callback, data);
  GPtrArray *entries;

  g_task_set_source_tag (task, bench_model_record_async);
  if (self->doc.side < 0 || self->doc.of < 0 || self->recording)
    {
      GError *error = NULL;

      desk_fail (&error, DESK_ERROR, DESK_ERROR_VALUE, WORDS_DESK_BENCH_WHAT, NULL);
      g_task_return_error (task, error);
      g_object_unref (task);
      return;
    }
  self->recording = TRUE;
  entries = g_ptr_array_new ();
  g_ptr_array_add (entries, bench_entry (self));
  desk_write_async (self->desk, entries, NULL, recorded_cb, task);
}

gboolean
bench_model_record_finish (BenchModel *self, GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, bench_model_record_async), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}
