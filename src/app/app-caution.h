/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-caution.h — the quiet line of what can hurt, beside what it is about; never a dialog. */
#pragma once

#include <gtk/gtk.h>

GtkWidget *app_caution_new (void); /* a label, hidden while it says nothing */
/* Bits 1 << WordsCaution, as the desk gives them; 0 = nothing to say. */
void app_caution_set (GtkLabel *label, unsigned cautions);
