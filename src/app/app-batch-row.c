/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-batch-row.c — see app-batch-row.h. It shows what the model says and tells it what is typed. */
#include "app/app-batch-row.h"

#include <glib/gi18n.h>

#include "app/app-drop-down.h"
#include "app/app-pages.h"
#include "app/app-thumb.h"
#include "app/app-view.h"
#include "app/app-widgets.h"

#define SIDE 84
#define LETTERS 34 /* of a line: two rows stand side by side */
#define WIDTH 636
#define N_DAYS 4

struct _AppBatchRow
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkBox *outer;
  GtkBox *room;
  GtkLabel *name, *when, *says;
  GtkDropDown *days;
  GtkEditable *number;
  GtkWidget *remove;

  /* Owned */
  Desk *desk;
  PhotoBatch *batch;
  char *hash; /* of the picture shown */

  guint nth;
  PhotoDay offered[N_DAYS]; /* what the rows of `days` mean */
  guint n_offered;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (AppBatchRow, app_batch_row, GTK_TYPE_WIDGET)

enum
{
  NEXT,
  REMOVE,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* ---- what it says ---- */

static char *
given_text (AppBatchRow *self, const PhotoRow *row)
{
  WordsView view = app_view (self->desk);
  g_autoptr (DeskSubject) subject = desk_get (self->desk, row->subject);
  g_autofree char *stage = NULL;

  if (desk_subject_kind (subject) != CORE_SUBJECT_ANIMAL)
    return g_strdup (desk_subject_label (subject));
  stage = words_stage (&view, desk_subject_state (subject));
  return g_strdup_printf ("%s, %s", app_species_name (subject), stage);
}

static char *
known_text (AppBatchRow *self, const PhotoRow *row)
{
  g_autoptr (DeskSubject) holder = core_id_is_none (row->holder) ? NULL : desk_get (self->desk, row->holder);

  if (holder == NULL)
    return g_strdup (C_ ("batch", "This very picture was in the journal before, and taken off."));
  /* Translators: the number of a cup */
  return g_strdup_printf (C_ ("batch", "This very picture is in the journal already, with %s."), desk_subject_label (holder));
}

/* What is to be decided. */
static char *
days_text (AppBatchRow *self, const PhotoRow *row)
{
  WordsView view = app_view (self->desk);
  g_autofree char *file = words_day (&view, row->file, WORDS_DAY_SHORT);
  g_autofree char *camera = NULL;

  if (row->camera == CORE_DAY_NONE)
    /* Translators: a day */
    return g_strdup_printf (C_ ("batch", "The camera names no day, the file %s"), file);
  if (row->wrong != CORE_WRONG_DAY_NONE)
    {
      g_autofree char *wrong = words_photo_wrong_day (&view, row->wrong, row->camera);

      /* Translators: a sentence that says which day the camera named, and that it cannot be; a day */
      return g_strdup_printf (C_ ("batch", "%s The file says %s."), wrong, file);
    }
  camera = words_day (&view, row->camera, WORDS_DAY_SHORT);
  /* Translators: two days */
  return g_strdup_printf (C_ ("batch", "The camera says %s, the file %s"), camera, file);
}

/* What keeps it, else whose it becomes; *css NULL = plain. */
static char *
says_text (AppBatchRow *self, const PhotoRow *row, const char **css)
{
  *css = "dim";
  if (row->state == PHOTO_ROW_READING)
    return g_strdup (C_ ("batch", "Reading the picture…"));
  *css = "trouble";
  if (row->state == PHOTO_ROW_REFUSED)
    return app_error_text (row->why);
  if (core_id_is_none (row->subject) && row->typed[0] != '\0')
    return g_strdup (C_ ("batch", "No cup has this number."));
  *css = "due";
  if (row->twin >= 0)
    /* Translators: its place in this list */
    return g_strdup_printf (C_ ("batch", "The same picture as number %d of this list."), row->twin + 1);
  if (row->known)
    return known_text (self, row);
  if (row->differ && row->day == PHOTO_DAY_UNSAID)
    return days_text (self, row);
  *css = NULL;
  return core_id_is_none (row->subject) ? g_strdup ("") : given_text (self, row);
}

static char *
day_text (AppBatchRow *self, const PhotoRow *row, PhotoDay day)
{
  WordsView view = app_view (self->desk);
  CoreDay said = day == PHOTO_DAY_CAMERA ? row->camera : row->file;
  g_autofree char *words = said != CORE_DAY_NONE ? words_day (&view, said, WORDS_DAY_FULL) : NULL;

  switch (day)
    {
    /* Translators: a day, as the camera and as the file says */
    case PHOTO_DAY_CAMERA: return g_strdup_printf (C_ ("batch", "%s (camera)"), words);
    case PHOTO_DAY_FILE: return g_strdup_printf (C_ ("batch", "%s (file)"), words);
    case PHOTO_DAY_NOBODY: return g_strdup (C_ ("batch", "Nobody knows"));
    case PHOTO_DAY_UNSAID:
    default: return g_strdup (C_ ("batch", "Which day?"));
    }
}

static char *
when_text (AppBatchRow *self, const PhotoRow *row)
{
  WordsView view = app_view (self->desk);
  g_autofree char *day = NULL;
  g_autofree char *wrong = words_photo_wrong_day (&view, row->wrong, row->camera);

  if (row->state != PHOTO_ROW_READ || row->differ)
    return g_strdup ("");
  if (wrong != NULL)
    /* Translators: a sentence that says which day the camera named, and that it cannot be */
    return g_strdup_printf (C_ ("batch", "%s Entered as of today, no proof that it was seen."), wrong);
  if (row->day != PHOTO_DAY_CAMERA)
    return g_strdup (C_ ("batch", "It says no day: entered as of today, no proof that it was seen."));
  day = words_day (&view, row->camera, WORDS_DAY_FULL);
  if (row->minute < 0)
    return g_steal_pointer (&day);
  return g_strdup_printf ("%s, %02d:%02d", day, row->minute / 60, row->minute % 60);
}

/* ---- filling ---- */

static void
fill_days (AppBatchRow *self, const PhotoRow *row)
{
  static const PhotoDay all[N_DAYS] = { PHOTO_DAY_UNSAID, PHOTO_DAY_CAMERA, PHOTO_DAY_FILE, PHOTO_DAY_NOBODY };
  gboolean asks = row->state == PHOTO_ROW_READ && row->differ;
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);
  guint chosen = 0;

  gtk_widget_set_visible (GTK_WIDGET (self->days), asks);
  if (!asks)
    return;
  self->n_offered = 0;
  for (guint i = 0; i < N_DAYS; i++)
    {
      g_autofree char *text = NULL;

      if (all[i] != PHOTO_DAY_UNSAID && !photo_batch_day_fits (self->batch, self->nth, all[i]))
        continue;
      if (all[i] == row->day)
        chosen = self->n_offered;
      text = day_text (self, row, all[i]);
      gtk_string_list_append (list, text);
      self->offered[self->n_offered++] = all[i];
    }
  gtk_drop_down_set_model (self->days, G_LIST_MODEL (list));
  gtk_drop_down_set_selected (self->days, chosen);
}

static void
fill_thumb (AppBatchRow *self, const PhotoRow *row)
{
  if (g_strcmp0 (self->hash, row->hash) == 0)
    return;
  g_free (self->hash);
  self->hash = g_strdup (row->hash);
  app_box_empty (self->room);
  if (row->hash[0] != '\0')
    gtk_box_append (self->room,
                    app_thumb_new_for_file (row->path, row->hash, row->width, row->height, SIDE, row->name));
}

static void
fill_says (AppBatchRow *self, const PhotoRow *row)
{
  static const char *const classes[] = { "dim", "trouble", "due", NULL };
  const char *css;
  g_autofree char *text = says_text (self, row, &css);

  for (guint i = 0; classes[i] != NULL; i++)
    gtk_widget_remove_css_class (GTK_WIDGET (self->says), classes[i]);
  if (css != NULL)
    gtk_widget_add_css_class (GTK_WIDGET (self->says), css);
  gtk_label_set_label (self->says, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->number), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
}

void
app_batch_row_set (AppBatchRow *self, Desk *desk, PhotoBatch *batch, guint nth)
{
  const PhotoRow *row;
  g_autofree char *when = NULL, *name = NULL, *label = NULL;

  g_return_if_fail (APP_IS_BATCH_ROW (self));
  g_set_object (&self->desk, desk);
  g_set_object (&self->batch, batch);
  self->nth = nth;
  row = photo_batch_row (batch, nth);
  when = when_text (self, row);
  name = g_strdup_printf ("%u · %s", nth + 1, row->name);
  /* Translators: the place of the picture in the list, the name of its file */
  label = g_strdup_printf (C_ ("batch", "Number on the cup of picture %u, %s"), nth + 1, row->name);
  self->filling = TRUE;
  gtk_label_set_label (self->name, name);
  gtk_label_set_label (self->when, when);
  gtk_widget_set_visible (GTK_WIDGET (self->when), when[0] != '\0');
  gtk_editable_set_editable (self->number, row->state != PHOTO_ROW_REFUSED);
  if (g_strcmp0 (gtk_editable_get_text (self->number), row->typed) != 0)
    gtk_editable_set_text (self->number, row->typed);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->number), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  fill_days (self, row);
  fill_thumb (self, row);
  fill_says (self, row);
  self->filling = FALSE;
}

guint
app_batch_row_nth (AppBatchRow *self)
{
  g_return_val_if_fail (APP_IS_BATCH_ROW (self), 0);
  return self->nth;
}

void
app_batch_row_focus (AppBatchRow *self)
{
  g_return_if_fail (APP_IS_BATCH_ROW (self));
  gtk_widget_grab_focus (gtk_editable_get_editable (self->number) ? GTK_WIDGET (self->number) : self->remove);
}

/* ---- what the keeper does ---- */

static void
typed_cb (GtkEditable *editable, AppBatchRow *self)
{
  if (!self->filling)
    photo_batch_set_number (self->batch, self->nth, gtk_editable_get_text (editable));
}

static void
day_cb (GtkDropDown *days, GParamSpec *pspec, AppBatchRow *self)
{
  guint chosen = gtk_drop_down_get_selected (days);

  if (!self->filling && chosen < self->n_offered && self->offered[chosen] != PHOTO_DAY_UNSAID)
    photo_batch_set_day (self->batch, self->nth, self->offered[chosen]);
}

static void
next_cb (GtkEntry *entry, AppBatchRow *self)
{
  g_signal_emit (self, signals[NEXT], 0);
}

static void
remove_cb (GtkButton *button, AppBatchRow *self)
{
  g_signal_emit (self, signals[REMOVE], 0);
}

static GdkContentProvider *
drag_cb (GtkDragSource *source, double x, double y, AppBatchRow *self)
{
  g_autoptr (GdkPaintable) picture = NULL;

  if (self->batch == NULL || photo_batch_row (self->batch, self->nth)->state == PHOTO_ROW_REFUSED)
    return NULL;
  picture = gtk_widget_paintable_new (GTK_WIDGET (self->room));
  gtk_drag_source_set_icon (source, picture, 12, 12);
  return gdk_content_provider_new_typed (APP_TYPE_BATCH_ROW, self);
}

/* ---- object ---- */

static void
dispose (GObject *object)
{
  AppBatchRow *self = APP_BATCH_ROW (object);

  g_clear_object (&self->desk);
  g_clear_object (&self->batch);
  app_unparent_all (object);
  G_OBJECT_CLASS (app_batch_row_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  g_free (APP_BATCH_ROW (object)->hash);
  G_OBJECT_CLASS (app_batch_row_parent_class)->finalize (object);
}

static GtkSizeRequestMode
request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

/* All rows are equally wide, whatever they say, so that they stand in columns. */
static void
measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline,
         int *natural_baseline)
{
  *minimum_baseline = *natural_baseline = -1;
  gtk_widget_measure (GTK_WIDGET (APP_BATCH_ROW (widget)->outer), orientation, for_size, minimum, natural, NULL, NULL);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    *natural = MAX (*minimum, WIDTH);
}

static void
size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  gtk_widget_allocate (GTK_WIDGET (APP_BATCH_ROW (widget)->outer), width, height, baseline, NULL);
}

static void
app_batch_row_class_init (AppBatchRowClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  GTK_WIDGET_CLASS (klass)->get_request_mode = request_mode;
  GTK_WIDGET_CLASS (klass)->measure = measure;
  GTK_WIDGET_CLASS (klass)->size_allocate = size_allocate;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
  signals[NEXT] = g_signal_new ("next", APP_TYPE_BATCH_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[REMOVE]
    = g_signal_new ("remove", APP_TYPE_BATCH_ROW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
add_words (AppBatchRow *self)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);

  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_widget_set_hexpand (words, TRUE);
  self->name = app_text (words, "", NULL);
  gtk_label_set_wrap (self->name, FALSE);
  gtk_label_set_ellipsize (self->name, PANGO_ELLIPSIZE_MIDDLE);
  gtk_label_set_max_width_chars (self->name, LETTERS);
  self->when = app_text (words, "", "dim");
  gtk_label_set_max_width_chars (self->when, LETTERS);
  self->days = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  app_drop_down_mend (self->days, TRUE);
  gtk_widget_set_halign (GTK_WIDGET (self->days), GTK_ALIGN_START);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->days), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("batch", "The day on which it was taken"), -1);
  g_signal_connect_object (self->days, "notify::selected", G_CALLBACK (day_cb), self, 0);
  gtk_box_append (GTK_BOX (words), GTK_WIDGET (self->days));
  self->says = app_text (words, "", NULL);
  gtk_label_set_max_width_chars (self->says, LETTERS);
  gtk_box_append (self->outer, words);
}

static void
add_number (AppBatchRow *self)
{
  GtkWidget *entry = gtk_entry_new ();

  self->number = GTK_EDITABLE (entry);
  gtk_editable_set_width_chars (self->number, 6);
  gtk_editable_set_max_width_chars (self->number, 6);
  gtk_entry_set_max_length (GTK_ENTRY (entry), 24);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), C_ ("batch", "cup"));
  gtk_widget_add_css_class (entry, "numbers");
  gtk_widget_set_valign (entry, GTK_ALIGN_CENTER);
  g_signal_connect_object (entry, "changed", G_CALLBACK (typed_cb), self, 0);
  g_signal_connect_object (entry, "activate", G_CALLBACK (next_cb), self, 0);
  gtk_box_append (self->outer, entry);
}

static void
app_batch_row_init (AppBatchRow *self)
{
  GtkDragSource *drag = gtk_drag_source_new ();

  self->outer = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12));
  gtk_widget_set_parent (GTK_WIDGET (self->outer), GTK_WIDGET (self));
  self->room = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0));
  gtk_widget_set_size_request (GTK_WIDGET (self->room), SIDE, SIDE);
  gtk_widget_set_valign (GTK_WIDGET (self->room), GTK_ALIGN_CENTER);
  gtk_box_append (self->outer, GTK_WIDGET (self->room));
  add_number (self);
  add_words (self);
  self->remove = gtk_button_new_from_icon_name ("window-close-symbolic");
  gtk_widget_add_css_class (self->remove, "quiet");
  gtk_widget_set_valign (self->remove, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (self->remove, C_ ("batch", "Leave this picture out"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->remove), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  C_ ("batch", "Leave this picture out"), -1);
  g_signal_connect_object (self->remove, "clicked", G_CALLBACK (remove_cb), self, 0);
  gtk_box_append (self->outer, self->remove);
  gtk_drag_source_set_actions (drag, GDK_ACTION_COPY);
  g_signal_connect_object (drag, "prepare", G_CALLBACK (drag_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self->room), GTK_EVENT_CONTROLLER (drag));
}

GtkWidget *
app_batch_row_new (void)
{
  return g_object_new (APP_TYPE_BATCH_ROW, NULL);
}
