/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-fasting.h — what is the matter with one that refuses, and what to do, at the head of its page. */
#pragma once

#include <gtk/gtk.h>

#include "desk/desk.h"
#include "words/words.h"

/* Fills the box anew; hides it where the animal does not refuse. */
void app_fasting_fill (GtkBox *box, const WordsView *view, DeskSubject *subject);
/* Adds the answer and what to do, where it refuses. */
void app_fasting_add (GtkBox *box, const WordsView *view, DeskSubject *subject);
