/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-application.h — the program: one instance, options, style. */
#pragma once

#include "app/app-types.h"

#define APP_ID "io.github.mantidary.Mantidary"

#define APP_TYPE_APPLICATION (app_application_get_type ())
G_DECLARE_FINAL_TYPE (AppApplication, app_application, APP, APPLICATION, AdwApplication)

AppApplication *app_application_new (void);
/* A start of the program: the first opens the window, each later one hands over to it. journal NULL:
 * that of the last time; today NONE: the clock. */
void app_application_start (AppApplication *self, const char *journal, CoreDay today);
/* Text domain, its folder (MANTIDARY_LOCALEDIR for an uninstalled build) and the locale. */
void app_locale_init (void);
/* The style sheets; also used by tests that show a single page. */
void app_style_init (void);
