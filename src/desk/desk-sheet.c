/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-sheet.c — what is printed: round sheets and number stickers. */
#include "desk/desk-sheet.h"

#include "desk/desk-private.h"
#include "desk/desk-sheet-private.h"

/* One run of pages that belong together. */
typedef struct
{
  const DeskSheetClass *klass;
  gpointer data; /* owned, by its class */
} Part;

struct _DeskSheet /* g_atomic_rc_box */
{
  GArray *parts; /* Part */
  ExchPaper paper;
  char *title;
};

static void
part_clear (gpointer data)
{
  Part *part = data;

  part->klass->free (part->data);
}

DeskSheet *
desk_sheet_new (void)
{
  DeskSheet *self = g_atomic_rc_box_new0 (DeskSheet);

  self->parts = g_array_new (FALSE, FALSE, sizeof (Part));
  g_array_set_clear_func (self->parts, part_clear);
  (void) exch_paper_by_name ("a4", &self->paper);
  return self;
}

void
desk_sheet_set_title (DeskSheet *self, const char *title)
{
  g_free (self->title);
  self->title = g_strdup (title);
}

void
desk_sheet_add (DeskSheet *self, const DeskSheetClass *klass, gpointer data)
{
  Part part = { klass, data };

  g_array_append_val (self->parts, part);
}

static void
sheet_clear (gpointer data)
{
  DeskSheet *self = data;

  g_array_unref (self->parts);
  g_free (self->title);
}

DeskSheet *
desk_sheet_ref (DeskSheet *self)
{
  return g_atomic_rc_box_acquire (self);
}

void
desk_sheet_unref (DeskSheet *self)
{
  if (self != NULL)
    g_atomic_rc_box_release_full (self, sheet_clear);
}

/* Nothing to print is an error. Takes the sheet. */
DeskSheet *
desk_sheet_or_nothing (DeskSheet *self, GError **error)
{
  if (desk_sheet_n_lines (self) > 0)
    return self;
  desk_sheet_unref (self);
  desk_fail (error, DESK_ERROR, DESK_ERROR_NOT_FOUND, WORDS_DESK_NOTHING_TO_PRINT, NULL);
  return NULL;
}

/* ---- making ---- */

char *
desk_sheet_kind_of (const DeskSubject *subject)
{
  const CoreProfile *profile = desk_subject_species_known (subject) ? desk_subject_profile (subject) : NULL;
  const char *name = words_species (WORDS_LOCAL, profile, desk_subject_state (subject)->species);

  if (desk_subject_kind (subject) == CORE_SUBJECT_CULTURE)
    return words_prey (WORDS_LOCAL, desk_subject_state (subject)->culture.prey, 0);
  if (desk_subject_kind (subject) != CORE_SUBJECT_ANIMAL)
    return g_strdup (name);
  return g_strdup_printf ("%s %s", words_sex_sign (desk_subject_verdict (subject)->verdict), name);
}

/* Of a lot how many there are, of others what kind of thing it is. */
static char *
stage_of (const WordsView *view, const DeskSubject *subject)
{
  const CoreState *state = desk_subject_state (subject);
  g_autofree char *count = NULL;
  g_autofree char *stage = NULL;

  if (desk_subject_kind (subject) == CORE_SUBJECT_ANIMAL)
    return words_stage (view, state);
  if (desk_subject_kind (subject) != CORE_SUBJECT_LOT)
    return g_strdup (words_subject_kind (view->lang, desk_subject_kind (subject)));
  count = words_count_of (view->lang, &state->tally);
  stage = words_stage (view, state);
  return g_strdup_printf ("%s · %s", count, stage);
}

static void
add_row (ExchSheet *sheet, const WordsView *view, const DeskSubject *subject)
{
  ExchSheetRow *row = exch_sheet_add (sheet);
  const CorePlan *plan = desk_subject_plan (subject);

  row->number = g_strdup (desk_subject_label (subject));
  row->kind = desk_sheet_kind_of (subject);
  row->stage = stage_of (view, subject);
  row->due = words_sheet_due (view, plan);
  row->alone = core_hold_alone (&plan->hold);
  row->plain =
    desk_subject_kind (subject) != CORE_SUBJECT_ANIMAL && desk_subject_kind (subject) != CORE_SUBJECT_LOT;
}

static guint
shelf_pages (gconstpointer data, const ExchPaper *paper)
{
  return exch_sheet_n_pages (data, paper);
}

static guint
shelf_lines (gconstpointer data)
{
  return ((const ExchSheet *) data)->rows->len;
}

static void
shelf_draw (gconstpointer data, const ExchPaper *paper, guint page, const char *foot, cairo_t *cr)
{
  exch_sheet_draw (data, paper, page, foot, cr);
}

static void
shelf_free (gpointer data)
{
  exch_sheet_free (data);
}

static const DeskSheetClass shelf_class = { shelf_pages, shelf_lines, shelf_draw, shelf_free };

static void
add_shelf (Desk *self, DeskSheet *sheet, const WordsView *view, DeskSubject *place)
{
  g_autoptr (GPtrArray) subjects = desk_subjects_on (self, desk_subject_id (place));
  WordsView full = *view;
  ExchSheet *shelf;

  if (subjects->len == 0)
    return;
  full.today = CORE_DAY_NONE; /* paper outlives today: no "today" on it */
  shelf = exch_sheet_new ();
  shelf->title = words_sheet_title (view->lang, desk_place_name (place));
  shelf->day = words_day (&full, view->today, WORDS_DAY_FULL);
  shelf->note = words_sheet_scheme (view->lang, view->scheme);
  for (guint i = 0; i < EXCH_SHEET_HEADS; i++)
    shelf->heads[i] = words_sheet (view->lang, (WordsSheetPart) i);
  for (guint i = 0; i < subjects->len; i++)
    add_row (shelf, view, subjects->pdata[i]);
  desk_sheet_add (sheet, &shelf_class, shelf);
}

GPtrArray *
desk_sheet_places (Desk *self, CoreId place)
{
  GPtrArray *places;

  if (core_id_is_none (place))
    return desk_places (self);
  places = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);
  g_ptr_array_add (places, desk_get (self, place));
  if (places->pdata[0] == NULL)
    g_ptr_array_set_size (places, 0);
  return places;
}

DeskSheet *
desk_round_sheet (Desk *self, CoreId place, GError **error)
{
  WordsView view = { WORDS_LOCAL, desk_today (self), desk_scheme (self) };
  DeskSheet *sheet = desk_sheet_new ();
  g_autoptr (GPtrArray) places = desk_sheet_places (self, place);

  for (guint i = 0; i < places->len; i++)
    add_shelf (self, sheet, &view, places->pdata[i]);
  if (sheet->parts->len == 1)
    desk_sheet_set_title (sheet, ((ExchSheet *) g_array_index (sheet->parts, Part, 0).data)->title);
  else
    desk_sheet_set_title (sheet, T_ (WORDS_LOCAL, "sheet", "Round sheets"));
  return desk_sheet_or_nothing (sheet, error);
}

static guint
stickers_pages (gconstpointer data, const ExchPaper *paper)
{
  return exch_stickers_n_pages (data, paper);
}

static guint
stickers_lines (gconstpointer data)
{
  return ((const GPtrArray *) data)->len;
}

static void
stickers_draw (gconstpointer data, const ExchPaper *paper, guint page, const char *foot, cairo_t *cr)
{
  exch_stickers_draw (data, paper, page, cr);
}

static void
stickers_free (gpointer data)
{
  g_ptr_array_unref (data);
}

static const DeskSheetClass stickers_class = { stickers_pages, stickers_lines, stickers_draw, stickers_free };

static GPtrArray *
stickers_of (GPtrArray *subjects)
{
  GPtrArray *stickers = g_ptr_array_new_with_free_func ((GDestroyNotify) exch_sticker_free);

  for (guint i = 0; i < subjects->len; i++)
    {
      const DeskSubject *subject = subjects->pdata[i];
      ExchSticker *sticker = g_new0 (ExchSticker, 1);

      sticker->number = g_strdup (desk_subject_label (subject));
      /* The scientific name is the same in every language; what else there is changes. */
      sticker->below = g_strdup (desk_subject_species_known (subject)
                                   ? desk_subject_profile (subject)->scientific
                                   : desk_subject_state (subject)->species);
      g_ptr_array_add (stickers, sticker);
    }
  return stickers;
}

DeskSheet *
desk_stickers (Desk *self, CoreId place, GError **error)
{
  DeskSheet *sheet = desk_sheet_new ();
  g_autoptr (GPtrArray) subjects =
    core_id_is_none (place) ? desk_animals (self) : desk_subjects_on (self, place);

  desk_sheet_set_title (sheet, T_ (WORDS_LOCAL, "sheet", "Number stickers"));
  desk_sheet_add (sheet, &stickers_class, stickers_of (subjects));
  return desk_sheet_or_nothing (sheet, error);
}

/* ---- pages ---- */

void
desk_sheet_set_size (DeskSheet *self, double width, double height)
{
  self->paper = (ExchPaper){ width, height };
}

gboolean
desk_sheet_set_paper (DeskSheet *self, const char *name)
{
  return exch_paper_by_name (name, &self->paper);
}

const char *
desk_sheet_title (DeskSheet *self)
{
  return self->title;
}

guint
desk_sheet_n_lines (DeskSheet *self)
{
  guint n = 0;

  for (guint i = 0; i < self->parts->len; i++)
    {
      const Part *part = &g_array_index (self->parts, Part, i);

      n += part->klass->n_lines (part->data);
    }
  return n;
}

static guint
pages_of (DeskSheet *self, guint i)
{
  const Part *part = &g_array_index (self->parts, Part, i);

  return part->klass->n_pages (part->data, &self->paper);
}

guint
desk_sheet_n_pages (DeskSheet *self)
{
  guint n = 0;

  for (guint i = 0; i < self->parts->len; i++)
    n += pages_of (self, i);
  return n;
}

void
desk_sheet_draw (DeskSheet *self, guint page, cairo_t *cr)
{
  for (guint i = 0; i < self->parts->len; i++)
    {
      const Part *part = &g_array_index (self->parts, Part, i);
      guint n = pages_of (self, i);

      if (page < n)
        {
          g_autofree char *foot = words_sheet_page (WORDS_LOCAL, page + 1, n);

          part->klass->draw (part->data, &self->paper, page, foot, cr);
          return;
        }
      page -= n;
    }
}

/* ---- to a file ---- */

typedef struct
{
  DeskSheet *sheet;
  char *path;
  gboolean replace;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;

  desk_sheet_unref (job->sheet);
  g_free (job->path);
  g_free (job);
}

static void
draw_cb (guint page, cairo_t *cr, gpointer data)
{
  desk_sheet_draw (data, page, cr);
}

static void
write_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  GError *error = NULL;

  if (exch_pdf_write (job->path, &job->sheet->paper, desk_sheet_n_pages (job->sheet), draw_cb, job->sheet,
                      job->replace, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

void
desk_sheet_write_async (DeskSheet *self,
                        const char *path,
                        gboolean replace,
                        GCancellable *cancellable,
                        GAsyncReadyCallback callback,
                        gpointer data)
{
  g_autoptr (GTask) task = g_task_new (NULL, cancellable, callback, data);
  Job *job = g_new (Job, 1);

  *job = (Job){ desk_sheet_ref (self), g_canonicalize_filename (path, NULL), replace };
  g_task_set_source_tag (task, desk_sheet_write_async);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, write_thread);
}

gboolean
desk_sheet_write_finish (GAsyncResult *result, GError **error)
{
  g_return_val_if_fail (g_async_result_is_tagged (result, desk_sheet_write_async), FALSE);

  return g_task_propagate_boolean (G_TASK (result), error);
}
