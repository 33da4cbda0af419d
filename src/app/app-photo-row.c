/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-photo-row.c — see app-photo-row.h. */
#include "app/app-photo-row.h"

#include <glib/gi18n.h>

#include "app/app-measure-page.h"
#include "app/app-proof.h"
#include "app/app-thumb.h"
#include "app/app-window.h"
#include "desk/desk-photos.h"

typedef struct
{
  CoreId animal;
  CoreId photo;
} PhotoOf;

static void
bench_cb (GtkButton *button, PhotoOf *of)
{
  AppWindow *window = app_window_of (button);

  if (window != NULL)
    app_window_show_bench (window, of->animal, of->photo);
}

static void
measure_cb (GtkButton *button, PhotoOf *of)
{
  AppWindow *window = app_window_of (button);

  if (window != NULL)
    app_window_show_measure (window, of->animal, of->photo);
}

static void
large_cb (GtkButton *button, PhotoOf *of)
{
  AppWindow *window = app_window_of (button);

  if (window != NULL)
    app_window_show_picture (window, of->photo);
}

static void
proof_cb (GtkButton *button, PhotoOf *of)
{
  AppWindow *window = app_window_of (button);

  if (window != NULL)
    app_proof_save_photo (window, of->photo);
}

static void
free_of (gpointer of, GClosure *closure)
{
  g_free (of);
}

static GtkWidget *
button_new (const char *label, GCallback callback, const PhotoOf *of)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_add_css_class (button, "quiet");
  gtk_widget_set_halign (button, GTK_ALIGN_START); /* one below the other: at one edge */
  g_signal_connect_data (button, "clicked", callback, g_memdup2 (of, sizeof *of), free_of, 0);
  return button;
}

GtkWidget *
app_photo_row_new (Desk *desk, CoreId animal, CoreId photo, int side, const char *words)
{
  PhotoOf of = { animal, photo };
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);

  gtk_box_append (GTK_BOX (row), app_thumb_new (desk, photo, side, words));
  gtk_widget_set_valign (buttons, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (buttons), button_new (C_ ("timeline", "Count the plates"), G_CALLBACK (bench_cb), &of));
  gtk_box_append (GTK_BOX (buttons), button_new (C_ ("timeline", "Measure"), G_CALLBACK (measure_cb), &of));
  gtk_box_append (GTK_BOX (buttons), button_new (C_ ("timeline", "View large"), G_CALLBACK (large_cb), &of));
  if (desk_photo_marked (desk, animal, photo))
    gtk_box_append (GTK_BOX (buttons), button_new (C_ ("proof", "Proof sheet…"), G_CALLBACK (proof_cb), &of));
  gtk_box_append (GTK_BOX (row), buttons);
  return row;
}
