/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-keys.h — the window that lists all keys. */
#pragma once

#include "app/app-window.h"

/* `section`: "pages" or "animal", whichever comes first. */
void app_keys_show (AppWindow *window, const char *section);
