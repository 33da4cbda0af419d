/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-swap.h — one cup dropped on another: before it, or in its place? */
#pragma once

#include "app/app-window.h"

/* Asks, and writes what was chosen; `place` is the shelf of both. */
void app_swap_ask (AppWindow *window, CoreId place, CoreId cup, CoreId other);
