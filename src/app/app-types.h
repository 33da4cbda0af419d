/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-types.h — the classes of the window, named once so that headers need not include each other. */
#pragma once

#include <adwaita.h>

#include "desk/desk.h"

typedef struct _AppWindow AppWindow;
typedef struct _AppShelvesPage AppShelvesPage;
typedef struct _AppAnimalPage AppAnimalPage;
typedef struct _AppCalendarPage AppCalendarPage;
typedef struct _AppBenchPage AppBenchPage;

/* A callback of a page that asks for an animal to be shown. */
typedef void (*AppShowAnimalFunc) (CoreId animal, gpointer data);
