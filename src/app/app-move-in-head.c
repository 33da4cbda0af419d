/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-move-in-head.c — the names of the columns, above the rows; see app-move-in-table.h. */
#include <glib/gi18n.h>

#include "app/app-move-in-row.h"
#include "app/app-move-in-table.h"

#define PAD 9

struct _AppMoveInHead
{
  AppDrawn parent_instance;

  GtkWidget *names[MOVE_IN_N_COLUMNS]; /* children, borrowed */
};

G_DEFINE_FINAL_TYPE (AppMoveInHead, app_move_in_head, APP_TYPE_DRAWN)

static void
app_move_in_head_size (AppDrawn *drawn, GtkOrientation orientation, int *minimum, int *natural)
{
  AppMoveInHead *self = APP_MOVE_IN_HEAD (drawn);
  int x[MOVE_IN_N_COLUMNS + 1];

  *minimum = *natural = 0;
  for (int i = 0; orientation == GTK_ORIENTATION_VERTICAL && i < MOVE_IN_N_COLUMNS; i++)
    {
      int height;

      gtk_widget_measure (self->names[i], orientation, -1, &height, NULL, NULL, NULL);
      *minimum = *natural = MAX (*minimum, height + 6);
    }
  if (orientation == GTK_ORIENTATION_VERTICAL)
    return;
  app_move_in_columns (0, x);
  *minimum = *natural = x[MOVE_IN_N_COLUMNS];
}

static void
app_move_in_head_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  AppMoveInHead *self = APP_MOVE_IN_HEAD (widget);
  int x[MOVE_IN_N_COLUMNS + 1];

  app_move_in_columns (width, x);
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    {
      GtkAllocation where = { x[i] + PAD, 0, x[i + 1] - x[i] - PAD - 3, height };

      gtk_widget_size_allocate (self->names[i], &where, -1);
    }
}

static void
dispose (GObject *object)
{
  AppMoveInHead *self = APP_MOVE_IN_HEAD (object);

  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    g_clear_pointer (&self->names[i], gtk_widget_unparent);
  G_OBJECT_CLASS (app_move_in_head_parent_class)->dispose (object);
}

static void
app_move_in_head_class_init (AppMoveInHeadClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  APP_DRAWN_CLASS (klass)->size = app_move_in_head_size;
  widget_class->size_allocate = app_move_in_head_size_allocate;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_ROW);
}

static void
app_move_in_head_init (AppMoveInHead *self)
{
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    {
      self->names[i] = gtk_label_new (words_move_in_column (WORDS_LOCAL, (MoveInColumn) i));
      gtk_label_set_xalign (GTK_LABEL (self->names[i]), 0);
      gtk_label_set_ellipsize (GTK_LABEL (self->names[i]), PANGO_ELLIPSIZE_END);
      gtk_widget_add_css_class (self->names[i], "dim");
      gtk_widget_set_parent (self->names[i], GTK_WIDGET (self));
    }
}

void
app_move_in_head_set_begun (AppMoveInHead *self, MoveInColumn column)
{
  g_return_if_fail (APP_IS_MOVE_IN_HEAD (self));
  for (int i = 0; i < MOVE_IN_N_COLUMNS; i++)
    {
      gboolean begun = i == (int) column;
      g_autofree char *name = g_strconcat (words_move_in_column (WORDS_LOCAL, (MoveInColumn) i), begun ? " ↵" : NULL, NULL);

      gtk_label_set_label (GTK_LABEL (self->names[i]), name);
      gtk_widget_set_tooltip_text (self->names[i], begun ? C_ ("move in", "Enter goes on here, in the next row") : NULL);
    }
}
