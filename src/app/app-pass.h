/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-pass.h — one picture after the other on the photo bench, from the list of those to count.
 *
 * A pass goes through those that nobody has looked at, or, where there are none, once through those
 * that were left for later.
 */
#pragma once

#include "app/app-types.h"
#include "desk/photo-later.h"

typedef struct
{
  GArray *queue; /* PhotoLater; owned */
  guint at;      /* the one on the bench */
  gboolean on;
} AppPass;

void app_pass_init (AppPass *self);
void app_pass_clear (AppPass *self);
/* FALSE = there is nothing to count. */
gboolean app_pass_start (AppPass *self, Desk *desk);
/* The one on the bench; NULL = the pass is over. */
const PhotoLater *app_pass_now (AppPass *self);
/* Has it been recorded on the bench? */
gboolean app_pass_is_counted (AppPass *self, Desk *desk);
/* To the next that still waits; FALSE, and the pass is over, when there is none. */
gboolean app_pass_next (AppPass *self, Desk *desk);
