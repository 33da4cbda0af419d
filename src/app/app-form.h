/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-form.h — a small window that asks a few things and writes once.
 *
 * Rows have a key; what is typed is read back by key. A refusal is shown inside
 * the window and nothing typed is lost. Return accepts, Escape closes.
 */
#pragma once

#include "app/app-window.h"
#include "desk/desk-when.h"
#include "words/words.h"

#define APP_TYPE_FORM (app_form_get_type ())
G_DECLARE_FINAL_TYPE (AppForm, app_form, APP, FORM, GtkWindow)

/* Start the write; call app_form_done from its callback. */
typedef void (*AppFormSubmit) (AppForm *form);

AppForm *app_form_new (AppWindow *window, const char *title, const char *accept, AppFormSubmit submit);
/* The same about one subject; `title` holds one %s for its number or name. */
AppForm *app_form_new_about (AppWindow *window, CoreId id, const char *title, const char *accept, AppFormSubmit submit);
AppWindow *app_form_window (AppForm *self); /* NULL once it was closed */
/* Every form over a window goes, its draft stays: another journal is opened. */
void app_form_leave_all (AppWindow *window);
/* The subject that the form is about. */
void app_form_set_id (AppForm *self, CoreId id);
CoreId app_form_id (AppForm *self);

GtkWidget *app_form_note (AppForm *self, const char *text);
/* One line of a caution, where the matter comes up; nothing when the keeper switched it off. */
void app_form_caution (AppForm *self, WordsCaution caution);
GtkWidget *app_form_entry (AppForm *self, const char *key, const char *label, const char *value, const char *placeholder);
/* To the right of the field of the last row. */
void app_form_beside (AppForm *self, GtkWidget *field, GtkWidget *beside);
/* A day as text: YYYY-MM-DD, words that desk_when_days() reads, or a number of days ago as "-3". How
 * it was understood stands beside it. */
GtkWidget *app_form_day (AppForm *self, const char *key, const char *label, CoreDay day);
/* `names` are shown, `values` given back; both NULL-ended and equally long. The value "?" is an
 * answer that writes nothing: looked at the question, not known. */
GtkWidget *app_form_choice (AppForm *self, const char *key, const char *label, const char *const *names,
                            const char *const *values, guint selected);

/* A widget across the form; what it has to keep as a draft is the text of the field given back, which
 * is not shown. */
GtkWidget *app_form_widget (AppForm *self, const char *key, GtkWidget *widget);

/* After the last row: what was typed before under the same `kind` and subject is there again, what
 * is typed now is kept, and the window comes up. */
void app_form_show (AppForm *self, const char *kind);

/* What a field of a number begins with; "" for NAN, not said. */
char *app_form_number (double value, int decimals);
const char *app_form_get (AppForm *self, const char *key); /* "" when empty; borrowed */
/* FALSE (and the form says so) when what stands there is no day. An empty one gives CORE_DAY_NONE. */
gboolean app_form_get_day (AppForm *self, const char *key, CoreDay *day);
/* The same while it is being typed, without a word. */
CoreDay app_form_peek_day (AppForm *self, const char *key);
/* As app_form_get_day() where several days can be kept, "about 10 days ago". */
gboolean app_form_get_days (AppForm *self, const char *key, DeskWhen *when);
/* The last such day, and the first: from `earliest_key` where that says one. */
gboolean app_form_get_span (AppForm *self, const char *key, const char *earliest_key, CoreDay *day, CoreDay *earliest);
/* The field is one of app_form_day(), and what stands there is after `today`. */
gboolean app_form_day_is_to_come (GtkWidget *field, CoreDay today);
/* The words over a field, without the underscore of its key; NULL = there is no such field. */
char *app_form_label (AppForm *self, const char *key);
/* "key=value" when filled, else NULL. */
char *app_form_pair (AppForm *self, const char *key);
/* What is wrong; the focus goes to the field of `key`, or (NULL) back to where it was. */
void app_form_problem_at (AppForm *self, const char *key, const char *text);
void app_form_problem (AppForm *self, const char *text);
/* Closes and says `text`, or shows the error. */
void app_form_done (AppForm *self, const char *text, const GError *error);

/* ---- writing ---- */

/* Callback of desk_record_async(): what was saved, or why not; takes a reference to the form. */
void app_form_recorded (GObject *source, GAsyncResult *result, gpointer form);
/* One entry of a kind with these keys, from the rows "day" and, where there is one, "earliest". */
void app_form_record (AppForm *self, const char *kind, const char *const *keys);
/* A `set` of the form's subject, as of today. */
CoreEntry *app_form_set_new (AppForm *self, const char *key, const char *value);
/* The same when what was typed under `key` is not `before`; NULL is "". */
void app_form_set_if_changed (AppForm *self, GPtrArray *entries, const char *key, const char *before);
/* All in one round; an empty list closes the form without a word. Takes the array. */
void app_form_write (AppForm *self, GPtrArray *entries);
