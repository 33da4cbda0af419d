/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-told.h — what was told of an animal when it came, and whom it comes from, under its head. */
#pragma once

#include <gtk/gtk.h>

#include "desk/desk.h"

/* Rows into the box, which hides where there is none. */
void app_told_fill (GtkBox *box, const WordsView *view, Desk *desk, DeskSubject *subject);
