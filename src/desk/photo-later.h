/* SPDX-License-Identifier: GPL-3.0-or-later */
/* photo-later.h — the pictures whose plates are still to be counted; kept with the journal's drafts,
 * so that the list is there after a restart.
 *
 * A picture leaves the list by itself once something is recorded on it, or when it is detached.
 */
#pragma once

#include "desk/desk.h"

typedef struct
{
  CoreId photo;   /* the live entry */
  CoreId subject;
  gboolean left;  /* it was looked at and left for later */
} PhotoLater;

/* PhotoLater: those not looked at yet, then those left, each in the order in which they came. */
GArray *photo_later_list (Desk *desk);
void photo_later_add (Desk *desk, const CoreId *photos, guint n); /* behind what is there */
void photo_later_leave (Desk *desk, CoreId photo);                /* it goes behind all others */
void photo_later_forget (Desk *desk, CoreId photo);
