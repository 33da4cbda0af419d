/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-widgets.h — the small pieces that pages are made of. */
#pragma once

#include <gtk/gtk.h>

/* A wrapping label, left-aligned, appended to a box. css may be NULL. */
GtkLabel *app_text (GtkWidget *box, const char *text, const char *css);
/* A quiet heading over a part of a page. */
GtkLabel *app_heading (GtkWidget *box, const char *text);
/* A hairline across. */
void app_hair (GtkWidget *box);
void app_box_empty (GtkBox *box);

/* Digits typed with the focus in there answer it; elsewhere they are the number of a cup. */
void app_take_digits (GtkWidget *widget);
gboolean app_takes_digits (GtkWidget *focus); /* NULL: no */

/* In a dispose: every child goes. */
void app_unparent_all (gpointer widget);
/* In a dispose: what gtk_widget_dispose_template() does, and children without an id go too. */
void app_template_dispose (GtkWidget *widget, GType type);
