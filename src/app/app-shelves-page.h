/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-shelves-page.h — the first page: places, one sentence, the boards, the round line. */
#pragma once

#include "app/app-desk-page.h"

#define APP_TYPE_SHELVES_PAGE (app_shelves_page_get_type ())
G_DECLARE_FINAL_TYPE (AppShelvesPage, app_shelves_page, APP, SHELVES_PAGE, AppDeskPage)

/* Property "desk". */
GtkWidget *app_shelves_page_new (void);
/* A letter for the chosen cup. */
gboolean app_shelves_page_key (AppShelvesPage *self, guint keyval);
CoreId app_shelves_page_place (AppShelvesPage *self); /* the shelf shown; none when there is none */
CoreId app_shelves_page_chosen (AppShelvesPage *self); /* whose cup is chosen; none */
void app_shelves_page_show_place (AppShelvesPage *self, CoreId place);
/* Show its shelf, focus and choose its cup. FALSE when it stands nowhere. */
gboolean app_shelves_page_show_animal (AppShelvesPage *self, DeskSubject *animal);
/* Lets go of the chosen cup, which closes its story and keeps the focus; FALSE when none was. */
gboolean app_shelves_page_let_go (AppShelvesPage *self);
/* A digit is an answer now, no number of a cup. */
gboolean app_shelves_page_wants_digit (AppShelvesPage *self);
/* Cups are marked for a round: capital letters are outcomes, no codes. */
gboolean app_shelves_page_is_marking (AppShelvesPage *self);
void app_shelves_page_focus_line (AppShelvesPage *self);
void app_shelves_page_mark_cups (AppShelvesPage *self); /* the round by hands on the cups, and back */
gboolean app_shelves_page_swap_day (AppShelvesPage *self); /* see app_round_line_swap_day() */
void app_shelves_page_set_past (AppShelvesPage *self, CoreDay day, const char *seen_by);
