/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-columns.h — two columns side by side from `turn` pixels of width on, else one under the other.
 *
 * Of its two or three children the second is the right column; the third stands under the first,
 * and in one column after both: what is read last. Properties "turn" and "share", the part of the
 * width that the left column takes.
 */
#pragma once

#include <gtk/gtk.h>

#define APP_TYPE_COLUMNS (app_columns_get_type ())
G_DECLARE_FINAL_TYPE (AppColumns, app_columns, APP, COLUMNS, GtkWidget)

GtkWidget *app_columns_new (GtkWidget *first, GtkWidget *second, int turn, double share);
