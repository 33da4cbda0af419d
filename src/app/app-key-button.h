/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-key-button.h — buttons that are also pressed by the one underlined letter of their label. */
#pragma once

#include <gtk/gtk.h>

/* The letter after the underscore of a translated label, small; 0 = none. */
gunichar app_key_of (const char *label);
/* `words` with an underscore before a letter that is not in `taken`, which gets it. */
char *app_key_label (const char *words, GString *taken);
/* Markup with that letter underlined, always and not only while Alt is held: it is pressed alone. */
char *app_key_markup (const char *label);
/* The words without the sign before the letter; the caller's. */
char *app_key_plain (const char *label);
GtkWidget *app_key_button_new (const char *label);
/* A row that wraps such buttons. */
GtkWidget *app_key_flow_new (void);
