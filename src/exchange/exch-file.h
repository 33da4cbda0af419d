/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-file.h — files that are there whole or not at all: written beside, synced, renamed.
 *
 * Paths are absolute. A function that returns TRUE after writing has synced what it wrote; one
 * that returns FALSE leaves nothing of its own behind. Errors are of EXCH_ERROR.
 */
#pragma once

#include <gio/gio.h>

#include "exchange/exch-error.h"

#define EXCH_HASH_LEN 64 /* SHA-256 in lower-case hex */

/* A new name in the folder of `path`, hidden, for what becomes `path`: owned. */
char *exch_file_beside (const char *path);
/* What programs that were killed have left beside `path`. */
void exch_file_remove_leftovers (const char *path);
/* 0600, must not be there. -1 with an error. */
int exch_file_create (const char *path, GError **error);
/* The same bytes in a file that has no name. -1 with an error. */
int exch_file_from_bytes (GBytes *bytes, GError **error);
/* An existing regular file, for reading. -1 with an error. */
int exch_file_open (const char *path, GError **error);
gboolean exch_file_write (int fd, const void *data, gsize n, const char *path, GError **error);
gboolean exch_file_sync (int fd, const char *path, GError **error);
/* Closes in any case. */
gboolean exch_file_sync_close (int fd, const char *path, GError **error);
gboolean exch_file_sync_dir (const char *dir, GError **error);
/* Renames a file that lies beside, and syncs the folder. An existing `path` is EXCH_ERROR_EXISTS
 * unless `replace`. On failure `from` is removed. */
gboolean exch_file_put (const char *from, const char *path, gboolean replace, GError **error);
/* Fills the open file; errors name `path`. */
typedef gboolean (*ExchFileFill) (int fd, const char *path, gpointer data, GError **error);
/* A file whole or not at all: filled beside `path`, synced, then put there as exch_file_put() does. */
gboolean
exch_file_make (const char *path, ExchFileFill fill, gpointer data, gboolean replace, GError **error);
/* The same of bytes that are there. */
gboolean
exch_file_make_of (const char *path, const void *bytes, gsize n, gboolean replace, GError **error);
/* The same for a folder that lies beside; a folder at `dir` must be empty. On failure `from` is
 * removed with all in it, and nothing is at `dir` that was not there before. */
gboolean exch_folder_put (const char *from, const char *dir, GError **error);
/* 0700, one level; one that is there is fine. */
gboolean exch_file_make_dir (const char *dir, GError **error);
/* Bytes free for this user where `path` (which need not exist, its folder must) would lie. */
gboolean exch_file_has_room (const char *path, gint64 needed, GError **error);
/* SHA-256 and size of a regular file. */
gboolean exch_file_hash (const char *path, char *hex, gint64 *bytes, GError **error);
gboolean exch_file_hash_fd (int fd, char *hex, gint64 *bytes, const char *path, GError **error);
/* A folder with all in it; links are removed, not followed. */
void exch_file_remove_tree (const char *dir);
gboolean exch_hash_is_plain (const char *hash);
gboolean exch_format_is_plain (const char *format);

void exch_set_error (GError **error, ExchError code, const char *path);
void exch_set_errno (GError **error, int saved_errno, const char *path);

/* Tests only: called before each thing that the disk can refuse; what it returns, unless 0, is
 * the errno that the disk gives. */
typedef enum
{
  EXCH_OP_CREATE,
  EXCH_OP_OPEN,
  EXCH_OP_READ,
  EXCH_OP_WRITE,
  EXCH_OP_SYNC,
  EXCH_OP_RENAME,
  EXCH_OP_MKDIR
} ExchOp;
extern int (*_exch_test_fault) (ExchOp op);
int _exch_fault (ExchOp op);
