/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-error.h — what can go wrong with backups: one code for each thing that a person can do. */
#pragma once

#include <glib.h>

typedef enum
{
  EXCH_ERROR_FAILED,    /* anything else of the disk */
  EXCH_ERROR_NOT_FOUND, /* no such file or folder */
  EXCH_ERROR_EXISTS,    /* the target is there already */
  EXCH_ERROR_FULL,      /* no room on the disk */
  EXCH_ERROR_FORBIDDEN, /* may not be read or written */
  EXCH_ERROR_NO_BACKUP, /* a file, but not one of ours */
  EXCH_ERROR_DAMAGED,   /* ours, but not what was written */
  EXCH_ERROR_HOSTILE,   /* holds what no backup of ours holds: links, paths that lead out, … */
  EXCH_ERROR_TOO_NEW,   /* made by a later version */
  EXCH_ERROR_PHOTO      /* a photo of the journal is not there or not as it was added */
} ExchError;

#define EXCH_ERROR (exch_error_quark ())
GQuark exch_error_quark (void);
