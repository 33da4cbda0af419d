/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-help.h — emergency words, keys, about: pages that need no journal. */
#pragma once

#include "app/app-window.h"

GtkWidget *app_help_emergency_page (void);
void app_help_about (AppWindow *window);
