/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-earlier.h — the other pictures of an animal and its shed skins, to look at beside one. */
#pragma once

#include "app/app-types.h"

/* Newest first, each with its day, stage and what was counted on it; a click shows it large. */
GtkWidget *app_earlier_new (Desk *desk, DeskSubject *subject, CoreId photo);
