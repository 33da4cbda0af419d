/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-freeze.h — bytes of a snapshot: writing, reading within bounds, and their seal.
 *
 * The form is that of one build of this program on one kind of machine; the seal
 * tells a part that was changed, or made by somebody without the key. */
#pragma once

#include "desk/desk-private.h"

#define DESK_SEAL_KEY 16 /* bytes */

/* ---- writing ---- */

void desk_freeze_raw (GByteArray *out, gconstpointer from, gsize size);
void desk_freeze_number (GByteArray *out, guint64 n);
void desk_freeze_text (GByteArray *out, const char *text);
void desk_freeze_id (GByteArray *out, CoreId id);
/* Zeros up to where any struct may lie. What is written in pieces is cut there, so that its
 * length tells the place. */
void desk_freeze_align (GByteArray *out);
/* As it lies in memory, arrays and all. */
void desk_freeze_fold (GByteArray *out, const DeskFold *fold);
void desk_freeze_kept (GByteArray *out, const DeskKept *kept);

/* ---- reading: once `bad` all gives zeros ---- */

typedef struct
{
  guint8 *at, *end;
  DeskSlab *slab; /* whose bytes they are; NULL: they stay longer than what is made of them */
  gboolean bad;
} DeskThaw;

void desk_thaw_raw (DeskThaw *self, gpointer to, gsize size);
guint64 desk_thaw_number (DeskThaw *self);
/* A number of things of at least so many bytes each that are still to come. */
gsize desk_thaw_count (DeskThaw *self, gsize bytes);
char *desk_thaw_text (DeskThaw *self); /* NULL when bad */
CoreId desk_thaw_id (DeskThaw *self);
void desk_thaw_align (DeskThaw *self);
/* So many bytes where they lie; NULL when bad. */
gpointer desk_thaw_place (DeskThaw *self, gsize size);
/* Where it lies: it holds the bytes. NULL when bad. */
DeskFold *desk_thaw_fold (DeskThaw *self);
DeskKept *desk_thaw_kept (DeskThaw *self); /* a copy; NULL when bad */

/* ---- the seal ---- */

/* Of `size` bytes and of a number that tells parts apart, by a key: SipHash-1-3 (Aumasson and
 * Bernstein 2012, with one and three rounds). */
guint64 desk_seal (const guint8 key[DESK_SEAL_KEY], guint64 part, gconstpointer data, gsize size);
/* The key of this account on this machine, made when there is none; FALSE: there is none. */
gboolean desk_seal_key (guint8 out[DESK_SEAL_KEY], gboolean make);
