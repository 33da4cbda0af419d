/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-photo-row.h — a photo with what can be done with it: count its plates, see it large. */
#pragma once

#include "app/app-types.h"

GtkWidget *app_photo_row_new (Desk *desk, CoreId animal, CoreId photo, int side, const char *words);
