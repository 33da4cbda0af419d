/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store-private.h — what the files of this room share. No other room, except
 * the tests of this one, includes it.
 *
 * Invariant: `db` is used by one thread at a time, and written only between
 * _store_begin() and _store_end().
 */
#pragma once

#include <sqlite3.h>

#include "store/store.h"

#define STORE_APPLICATION_ID 0x4d4e5444 /* "MNTD" */
#define STORE_SCHEMA 3
#define STORE_DB_NAME "journal.sqlite"
#define STORE_LOCK_NAME "journal.lock"
#define STORE_PHOTO_DIR "photos"
#define STORE_WAIT_MS 2000 /* for another program's write */

struct _Store
{
  /* Owned */
  sqlite3 *db;
  char *dir;         /* absolute */
  char *db_path;     /* of the file that is open: in dir, or in private_dir */
  char *private_dir; /* a copy of this moment, removed on close; NULL = none */
  char *noted;       /* by _store_note_open(), or NULL */
  GThreadPool *pool; /* made by the first store_run_async() */
  sqlite3_stmt *by_seq, *by_id; /* kept ready, or NULL */

  StoreAccess access;
  gboolean network;
  gboolean in_write;
  int lock_fd; /* -1 unless in_write */
  CoreId device;
  gint64 data_version; /* as last seen by store_poll(), -1 = never */
};

typedef sqlite3_stmt Stmt;
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Stmt, sqlite3_finalize)

/* store-sql.c */
void _store_set_error (GError **error, StoreError code, const char *dir);
/* After a column that could not be taken: out of memory, or else damaged. */
void _store_set_damage (Store *self, GError **error);
void _store_set_errno (GError **error, int saved_errno, const char *path);
void _store_set_sql_error (Store *self, int rc, GError **error);
StoreError _store_code_from_sqlite (int rc, int system_errno);
gboolean _store_exec (Store *self, const char *sql, GError **error);
Stmt *_store_prepare (Store *self, const char *sql, GError **error);
/* SQLITE_ROW → *row TRUE, SQLITE_DONE → FALSE; anything else is an error. */
gboolean _store_step (Store *self, Stmt *stmt, gboolean *row, GError **error);
gboolean _store_run (Store *self, Stmt *stmt, GError **error); /* to its end, then reset */
gboolean _store_get_int (Store *self, const char *sql, gint64 *out, GError **error);
int _store_bind_id (Stmt *stmt, int column, CoreId id); /* none → NULL */
/* Both leave SQLITE_NOMEM in the connection where that is why they fail. */
gboolean _store_column_id (Stmt *stmt, int column, CoreId *out); /* FALSE: not 16 bytes */
const char *_store_column_text (Stmt *stmt, int column);         /* NULL: not clean text */
/* The lock of the folder and a write transaction; _store_end() with ok FALSE
 * rolls back and keeps *error as it is. */
gboolean _store_begin (Store *self, GError **error);
gboolean _store_end (Store *self, gboolean ok, GError **error);

/* store-schema.c */
gboolean _store_migrate (Store *self, int from, int to, GError **error);
gboolean _store_schema_matches (Store *self, int version, gboolean *matches, GError **error);
const char *_store_subject_name (CoreSubjectKind kind);
CoreSubjectKind _store_subject_from_name (const char *name);

/* store-row.c */
typedef struct
{
  const char *why; /* technical, static */
  gboolean no_memory;
} StoreRowError;
gboolean _store_bind_entry (Stmt *stmt, const CoreEntry *entry, StoreRowError *error);
CoreEntry *_store_read_entry (Stmt *stmt, StoreRowError *error); /* NULL: `why` says it */
#define STORE_ENTRY_COLUMNS                                                                        \
  "seq, id, subject, kind, day, earliest, minute, written_ms, device, round, names, bulk, "        \
  "code, n, sd, ref, text, more"

/* store-totals.c: the functions of ours that its statements call. */
gboolean _store_add_functions (Store *self, GError **error);
/* Within a transaction that adds entries: the kept totals, count 0 where there are none, for
 * store_totals_add(); and back. */
gboolean _store_totals_begin (Store *self, StoreTotals *out, GError **error);
gboolean _store_totals_end (Store *self, const StoreTotals *totals, GError **error);

/* store-scan.c */
void _store_drop_ready (Store *self);

/* store-draft.c: one statement as one write; `bound` is what binding gave. */
gboolean _store_write_one (Store *self, Stmt *stmt, int bound, GError **error);

/* store-json.c: one flat object of strings and numbers */
typedef gboolean (*StoreJsonMember) (const char *key, const char *text, double n, gpointer data);
void _store_json_append_text (GString *json, const char *key, const char *text);
void _store_json_append_number (GString *json, const char *key, double n);
/* Calls `member` with text, or with text NULL and n. FALSE at the first thing
 * that is not such an object, or when `member` says so. */
gboolean _store_json_read (const char *json, StoreJsonMember member, gpointer data);

/* store-files.c */
gboolean _store_fs_is_network (guint64 magic);
gboolean _store_dir_on_network (const char *dir);
gboolean _store_make_dir (const char *path, GError **error); /* 0700, parent synced */
gboolean _store_sync_dir (const char *path, GError **error);
/* Copies from `from` to the new file `to` (0600, synced) and hashes; hex may be
 * NULL. limit < 0 = none. A partial file is removed. */
gboolean _store_copy_fd (int from, const char *to, char *hex, gint64 *bytes, GError **error);
gboolean _store_hash_fd (int fd, char *hex, gint64 *bytes, GError **error);
gboolean _store_hash_path (const char *path, char *hex, gint64 *bytes, GError **error);
gboolean _store_copy_path (const char *from, const char *to, GError **error);
CoreId _store_machine_device (void);

/* store-photo.c */
gboolean _store_hash_is_plain (const char *hash);
gboolean _store_format_is_plain (const char *format);
/* The file is that of `photo`: size and hash are known, and compared while it is copied. */
gboolean
_store_photo_put_known (Store *self, int fd, const StorePhoto *photo, GError **error);

/* store-append.c */
gint64 _store_id_ms (CoreId id); /* when it was made, UTC, milliseconds since 1970 */
/* A UUIDv7 of a time that leaves room for others after it. */
gboolean _store_id_is_sound (CoreId id);
gboolean _store_photo_insert (Store *self, const StorePhoto *photo, GError **error);

/* store-open.c: closed, to be filled by _store_make_private_copy() */
Store *_store_new_for_copy (const char *dir);

/* store-copy.c: a file that SQLite has open must not be opened by other means
 * in the same process, for closing it would drop SQLite's locks on it. */
char *_store_note_open (const char *db_path); /* this process opens it with SQLite */
void _store_note_closed (char *noted);        /* takes what _store_note_open() gave */
/* Copies the database with what is pending to a folder of its own, which the
 * Store then has open and removes on close. */
gboolean _store_make_private_copy (Store *self, GError **error);
void _store_remove_private (const char *dir);
gboolean _store_has_pending (const char *db_path);

/* Places at which a test stops the program: "photo-file" (the file is complete,
 * its row is not written), "before-commit", "after-commit". A test sets the
 * function, or names one place in the environment variable
 * MANTIDARY_TEST_KILL_AT, where the process then ends by SIGKILL. */
extern void (*_store_test_hook) (const char *place);
void _store_at (const char *place);
/* -1 = ask the file system; 0 or 1 is taken as its answer. */
extern int _store_test_network;
