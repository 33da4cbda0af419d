/* SPDX-License-Identifier: GPL-3.0-or-later */
/* form-hands.h — the hands of a keeper on one of the program's forms. Rows are found by their
 * words. */
#pragma once

#include "app-fixture.h"

/* The field under a row's words; fails when there is none. */
GtkWidget *form_field (GtkWindow *form, const char *words);
void form_type (GtkWindow *form, const char *words, const char *text);
const char *form_typed (GtkWindow *form, const char *words);
void form_choose (GtkWindow *form, const char *words, guint which);
void form_accept (GtkWindow *form);
/* What the form says is wrong; "" nothing. */
const char *form_problem (GtkWindow *form);
void form_wait_closed (void);
void form_wait_problem (GtkWindow *form);
/* Each Alt key of the form stands once. */
void form_assert_mnemonics (GtkWindow *form);
/* Every field under `at` is labelled; *n grows by their number. */
void form_assert_fields_named (GtkWidget *at, guint *n);
