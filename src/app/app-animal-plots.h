/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-animal-plots.h — how an animal moulted, grew and ate, as plots with their tables. */
#pragma once

#include <gtk/gtk.h>

#include "desk/desk.h"

/* Empties the box and fills it with what there is to show; nothing when nothing is known. */
void app_animal_plots_fill (GtkBox *box, Desk *desk, DeskSubject *animal);
