/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-mixed-photos.c — see app-mixed-photos.h. */
#include "app/app-mixed-photos.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/app-thumb.h"
#include "app/app-view.h"
#include "app/app-widgets.h"

#define SIDE 220

typedef enum
{
  FIRST,  /* the one from which the question began */
  SECOND, /* the other */
  NOBODY, /* it cannot be told */
  N_ANSWERS
} Answer;

typedef struct
{
  CoreId photo; /* its first entry */
  int answer;   /* Answer; -1 = none yet */
} Picture;

struct _AppMixedPhotos
{
  GtkWidget parent_instance;

  /* Children, borrowed */
  GtkBox *outer;
  GtkLabel *question;
  GtkBox *picture;
  GtkBox *answers;
  GtkToggleButton *buttons[N_ANSWERS];
  GtkWidget *back, *next;
  GtkLabel *seen;

  /* Owned */
  Desk *desk;
  DeskSubject *pair[2];
  GArray *pictures; /* Picture */
  GHashTable *kept; /* text of an id → answer + 1, also of pictures that are not shown now */

  guint at;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (AppMixedPhotos, app_mixed_photos, GTK_TYPE_WIDGET)

enum
{
  CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static Picture *
nth (AppMixedPhotos *self, guint i)
{
  return &g_array_index (self->pictures, Picture, i);
}

static guint
n_answered (AppMixedPhotos *self)
{
  guint n = 0;

  for (guint i = 0; i < self->pictures->len; i++)
    n += nth (self, i)->answer >= 0 ? 1 : 0;
  return n;
}

static void
ask (AppMixedPhotos *self)
{
  const Picture *picture = nth (self, self->at);
  const CoreEntry *entry = desk_entry_heir (self->desk, picture->photo);
  g_autoptr (DeskSubject) owner = entry != NULL ? desk_get (self->desk, entry->subject) : NULL;
  WordsView view = app_view (self->desk);
  g_autofree char *day = entry != NULL ? words_day (&view, entry->day, WORDS_DAY_SHORT) : g_strdup ("");
  g_autofree char *words
    /* Translators: which of how many, its day, the number of the cup for which it was entered */
    = g_strdup_printf (C_ ("mixed", "Picture %u of %u, %s, entered with %s. Which of the two does it show?"),
                       self->at + 1, self->pictures->len, day, owner != NULL ? desk_subject_label (owner) : "?");

  gtk_label_set_label (self->question, words);
  app_box_empty (self->picture);
  gtk_box_append (self->picture, app_thumb_new (self->desk, entry != NULL ? entry->id : picture->photo, SIDE, words));
}

static void
show (AppMixedPhotos *self)
{
  g_autofree char *seen = NULL;

  gtk_widget_set_visible (GTK_WIDGET (self), self->pictures->len > 0);
  if (self->pictures->len == 0)
    return;
  self->filling = TRUE;
  ask (self);
  for (int k = 0; k < N_ANSWERS; k++)
    gtk_toggle_button_set_active (self->buttons[k], nth (self, self->at)->answer == k);
  self->filling = FALSE;
  gtk_widget_set_sensitive (self->back, self->at > 0);
  gtk_widget_set_sensitive (self->next, self->at + 1 < self->pictures->len);
  seen = g_strdup_printf (C_ ("mixed", "%u of %u answered. Pictures without an answer go along with the rest."),
                          n_answered (self), self->pictures->len);
  gtk_label_set_label (self->seen, seen);
}

static void
keep (AppMixedPhotos *self, const Picture *picture)
{
  char id[37];

  core_id_to_text (picture->photo, id);
  g_hash_table_insert (self->kept, g_strdup (id), GINT_TO_POINTER (picture->answer + 1));
}

/* An answer goes on to the next picture; the same one again takes it back. */
static void
answer_cb (GtkToggleButton *button, AppMixedPhotos *self)
{
  Picture *picture;
  int answer = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), "answer"));

  if (self->filling)
    return;
  picture = nth (self, self->at);
  picture->answer = gtk_toggle_button_get_active (button) ? answer : -1;
  keep (self, picture);
  if (picture->answer >= 0 && self->at + 1 < self->pictures->len)
    self->at++;
  show (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
step_cb (GtkButton *button, AppMixedPhotos *self)
{
  if (GTK_WIDGET (button) == self->back)
    self->at--;
  else
    self->at++;
  show (self);
}

static void
dispose (GObject *object)
{
  AppMixedPhotos *self = APP_MIXED_PHOTOS (object);

  g_clear_object (&self->desk);
  for (int k = 0; k < 2; k++)
    g_clear_pointer (&self->pair[k], desk_subject_unref);
  app_unparent_all (object);
  G_OBJECT_CLASS (app_mixed_photos_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  AppMixedPhotos *self = APP_MIXED_PHOTOS (object);

  g_array_unref (self->pictures);
  g_hash_table_unref (self->kept);
  G_OBJECT_CLASS (app_mixed_photos_parent_class)->finalize (object);
}

static void
app_mixed_photos_class_init (AppMixedPhotosClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
  signals[CHANGED]
    = g_signal_new ("changed", APP_TYPE_MIXED_PHOTOS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static GtkWidget *
step_button (AppMixedPhotos *self, GtkBox *row, const char *label)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  gtk_widget_add_css_class (button, "quiet");
  g_signal_connect_object (button, "clicked", G_CALLBACK (step_cb), self, 0);
  gtk_box_append (row, button);
  return button;
}

static void
app_mixed_photos_init (AppMixedPhotos *self)
{
  GtkBox *right = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 6));
  GtkBox *row = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12));
  GtkBox *steps = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6));

  self->pictures = g_array_new (FALSE, FALSE, sizeof (Picture));
  self->kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, C_ ("mixed", "Pictures"), -1);
  self->outer = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 6));
  gtk_widget_set_parent (GTK_WIDGET (self->outer), GTK_WIDGET (self));
  self->question = app_text (GTK_WIDGET (self->outer), "", NULL);
  self->picture = GTK_BOX (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0));
  gtk_box_append (row, GTK_WIDGET (self->picture));
  gtk_widget_set_valign (GTK_WIDGET (right), GTK_ALIGN_CENTER);
  gtk_box_append (row, GTK_WIDGET (right));
  gtk_box_append (self->outer, GTK_WIDGET (row));
  for (int k = 0; k < N_ANSWERS; k++)
    {
      self->buttons[k] = GTK_TOGGLE_BUTTON (gtk_toggle_button_new ());
      g_object_set_data (G_OBJECT (self->buttons[k]), "answer", GINT_TO_POINTER (k));
      g_signal_connect_object (self->buttons[k], "toggled", G_CALLBACK (answer_cb), self, 0);
      gtk_box_append (right, GTK_WIDGET (self->buttons[k]));
    }
  gtk_button_set_label (GTK_BUTTON (self->buttons[NOBODY]), C_ ("mixed", "It cannot be told"));
  self->back = step_button (self, steps, C_ ("mixed", "P_revious"));
  self->next = step_button (self, steps, C_ ("mixed", "Ne_xt"));
  gtk_box_append (right, GTK_WIDGET (steps));
  self->seen = app_text (GTK_WIDGET (self->outer), "", "dim");
}

GtkWidget *
app_mixed_photos_new (void)
{
  return g_object_new (APP_TYPE_MIXED_PHOTOS, NULL);
}

static void
name_answers (AppMixedPhotos *self)
{
  for (int k = 0; k < 2; k++)
    {
      /* Translators: the number of a cup */
      g_autofree char *label = g_strdup_printf (C_ ("mixed", "It shows %s"), desk_subject_label (self->pair[k]));

      gtk_button_set_label (GTK_BUTTON (self->buttons[k]), label);
    }
}

void
app_mixed_photos_set (AppMixedPhotos *self, Desk *desk, DeskSubject *a, DeskSubject *b, CoreDay since)
{
  g_autoptr (GPtrArray) photos = NULL;

  g_return_if_fail (APP_IS_MIXED_PHOTOS (self));

  g_set_object (&self->desk, desk);
  g_array_set_size (self->pictures, 0);
  self->at = 0;
  for (int k = 0; k < 2; k++)
    {
      g_clear_pointer (&self->pair[k], desk_subject_unref);
      self->pair[k] = desk != NULL ? desk_subject_ref (k == 0 ? a : b) : NULL;
    }
  if (desk != NULL)
    {
      photos = desk_mixed_photos (desk, desk_subject_id (a), desk_subject_id (b), since);
      name_answers (self);
    }
  for (guint i = 0; photos != NULL && i < photos->len; i++)
    {
      Picture picture = { desk_photo_first (desk, ((const CoreEntry *) photos->pdata[i])->id), -1 };
      char id[37];

      core_id_to_text (picture.photo, id);
      picture.answer = GPOINTER_TO_INT (g_hash_table_lookup (self->kept, id)) - 1;
      g_array_append_val (self->pictures, picture);
    }
  show (self);
}

guint
app_mixed_photos_n (AppMixedPhotos *self)
{
  g_return_val_if_fail (APP_IS_MIXED_PHOTOS (self), 0);
  return self->pictures->len;
}

GArray *
app_mixed_photos_shown (AppMixedPhotos *self)
{
  GArray *shown = g_array_new (FALSE, FALSE, sizeof (DeskShown));

  g_return_val_if_fail (APP_IS_MIXED_PHOTOS (self), shown);
  for (guint i = 0; i < self->pictures->len; i++)
    {
      const Picture *picture = nth (self, i);
      DeskShown one = { .photo = picture->photo };

      if (picture->answer == FIRST || picture->answer == SECOND)
        one.shows = desk_subject_id (self->pair[picture->answer]);
      if (picture->answer >= 0)
        g_array_append_val (shown, one);
    }
  return shown;
}

char *
app_mixed_photos_to_text (AppMixedPhotos *self)
{
  GString *text = g_string_new (NULL);
  GHashTableIter iter;
  gpointer id, answer;

  g_return_val_if_fail (APP_IS_MIXED_PHOTOS (self), NULL);
  g_hash_table_iter_init (&iter, self->kept);
  while (g_hash_table_iter_next (&iter, &id, &answer))
    if (GPOINTER_TO_INT (answer) > 0)
      g_string_append_printf (text, "%s%s %d", text->len > 0 ? "," : "", (const char *) id, GPOINTER_TO_INT (answer) - 1);
  return g_string_free (text, FALSE);
}

void
app_mixed_photos_from_text (AppMixedPhotos *self, const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, ",", -1);

  g_return_if_fail (APP_IS_MIXED_PHOTOS (self));
  for (guint i = 0; parts[i] != NULL; i++)
    {
      g_auto (GStrv) pair = g_strsplit (parts[i], " ", 2);
      gint64 answer;

      if (pair[0] != NULL && pair[1] != NULL
          && g_ascii_string_to_signed (pair[1], 10, 0, N_ANSWERS - 1, &answer, NULL))
        g_hash_table_insert (self->kept, g_strdup (pair[0]), GINT_TO_POINTER ((int) answer + 1));
    }
}
