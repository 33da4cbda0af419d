/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-agenda.h — an agenda made a slice at a time, for a span that takes longer than a frame of the screen,
 * and the task of one of its rows. */
#pragma once

#include "desk/desk.h"

/* The journal may change meanwhile: it is of the subjects as they were at the beginning. */
typedef struct _DeskAgendaMaker DeskAgendaMaker;
DeskAgendaMaker *desk_agenda_begin (Desk *self, CoreDay from, CoreDay to, CoreId place);
gboolean desk_agenda_go_on (DeskAgendaMaker *self, gint64 until); /* monotonic, µs; FALSE = all is there */
DeskAgenda *desk_agenda_end (DeskAgendaMaker *self);              /* goes on to the end, and frees it */
void desk_agenda_give_up (DeskAgendaMaker *self);
/* The whole task of a row, by its `nth`, where the agenda itself may be gone. */
gboolean desk_subject_task (DeskSubject *self, CoreDay from, CoreDay to, guint nth, CoreTask *out);
