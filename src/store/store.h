/* SPDX-License-Identifier: GPL-3.0-or-later */
/* store.h — the journal on disk: the only room that knows SQL.
 *
 * A journal is a folder:
 *
 *   DIR/journal.sqlite             entries, subjects, photo rows, drafts
 *   DIR/journal.lock               held (flock) for the length of one write
 *   DIR/photos/ab/abcdef….jpg      originals, named by their SHA-256
 *
 * Invariants: an entry is never changed or removed; what a call acknowledges is
 * on the disk; a call that fails has written nothing; a photo row exists only
 * after its file is complete.
 *
 * Threads: a Store is used by one thread at a time. Either call it directly
 * (a command line, a test), or only through store_run_async(), whose jobs run
 * one after the other on the Store's own thread. A second Store from
 * store_open_reader() may work beside it.
 *
 * The clock and randomness come in as a StoreStamp. Errors are of the domain
 * STORE_ERROR (photo sources may add G_IO_ERROR); messages are plain English
 * sentences, translated by their code elsewhere.
 */
#pragma once

#include <gio/gio.h>

#include "core/core-entry.h"

typedef struct _Store Store;

typedef enum
{
  STORE_ERROR_FAILED,    /* anything else; nothing was written */
  STORE_ERROR_BUSY,      /* another program is writing; waited for 2 s */
  STORE_ERROR_CORRUPT,   /* damaged, or not a journal at all */
  STORE_ERROR_TOO_NEW,   /* made by a later version of this program */
  STORE_ERROR_FULL,      /* no room on the disk (or over the quota) */
  STORE_ERROR_READ_ONLY, /* the folder or this Store cannot be written */
  STORE_ERROR_NO_MEMORY,
  STORE_ERROR_NOT_FOUND, /* no journal there, no such row, no such file */
  STORE_ERROR_EXISTS,    /* a journal is there already; an id is taken */
  STORE_ERROR_STALE,     /* somebody wrote since StoreBatch.expect_seq: load, check again */
  STORE_ERROR_DIFFERS    /* of two copies to be merged: one id, and not the same behind it */
} StoreError;

#define STORE_ERROR (store_error_quark ())
GQuark store_error_quark (void);

typedef enum
{
  STORE_OPEN = 0,
  STORE_CREATE = 1 << 0,   /* make a new journal; STORE_ERROR_EXISTS when one is there, or
                            * when the folder holds anything else */
  STORE_READ_ONLY = 1 << 1 /* never write, even where it would be possible */
} StoreFlags;

/* How the journal could be opened; anything but WRITE is told to the keeper. */
typedef enum
{
  STORE_ACCESS_WRITE,
  STORE_ACCESS_READ,      /* asked for with STORE_READ_ONLY, or a reader */
  STORE_ACCESS_IMMUTABLE, /* the folder cannot be written */
  STORE_ACCESS_COPY       /* the same, with writes pending: a private copy of this moment */
} StoreAccess;

/* The moment and 16 random bytes, drawn once per action at the face. */
typedef struct
{
  gint64 now_ms; /* UTC, milliseconds since 1970, >= 0 */
  guint8 random[16];
} StoreStamp;

typedef struct
{
  CoreId id;
  CoreSubjectKind kind;
} StoreSubject;

#define STORE_HASH_LEN 64 /* SHA-256 in lower-case hex */

/* One original. width and height are of the upright picture, in pixels. */
typedef struct
{
  CoreId id; /* none: given by store_append() */
  char hash[STORE_HASH_LEN + 1];
  char format[8]; /* file extension: "jpg", "png", "heic", "webp", "tiff" */
  int width, height;
  int orientation; /* EXIF 1…8 as in the file; 1 = already upright */
  gint64 bytes;
  CoreDay taken;    /* or CORE_DAY_NONE */
  int taken_minute; /* minutes after midnight, -1 = not known */
} StorePhoto;

/* What is written in one transaction. */
typedef struct
{
  const StoreSubject *subjects; /* new ones; one that is there already with the same kind is fine */
  gsize n_subjects;
  StorePhoto *photos; /* files put before with store_photo_put(); a hash that has a row already
                       * keeps that row and `id` becomes that row's */
  gsize n_photos;
  CoreEntry *const *entries; /* borrowed */
  gsize n_entries;
  gint64 expect_seq; /* last seq the caller has loaded; -1 = write whatever came since */
} StoreBatch;

/* --- opening ---------------------------------------------------------- */

Store *store_open (const char *dir, StoreFlags flags, GError **error) G_GNUC_WARN_UNUSED_RESULT;
void store_open_async (const char *dir,
                       StoreFlags flags,
                       GCancellable *cancellable,
                       GAsyncReadyCallback callback,
                       gpointer user_data);
Store *store_open_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* A journal that is not in our hands (merge, restore): read only, its schema
 * compared with ours and its pages checked before anything is read from it. One
 * that this program has open is STORE_ERROR_BUSY. */
Store *store_open_foreign (const char *dir, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* The same checks, in place: for a folder of one's own that something was unpacked into. One of an
 * older version is brought up to date. */
Store *store_open_unpacked (const char *dir, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* A second, reading connection to the same journal, for another thread. */
Store *store_open_reader (Store *self, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Waits for the jobs under way. NULL is fine. */
void store_close (Store *self);

/* TRUE when `dir` holds a file named like a journal (it may still be damaged). */
gboolean store_exists (const char *dir);

const char *store_get_dir (Store *self);
StoreAccess store_get_access (Store *self);
gboolean store_is_on_network (Store *self); /* then without WAL, slower */

/* Which machine and account writes; derived from the machine unless set. */
CoreId store_get_device (Store *self);
void store_set_device (Store *self, CoreId device);

/* --- ids -------------------------------------------------------------- */

/* The first UUIDv7 after `last` at that moment: max (clock, last + 1), with a
 * random tail, so that two copies of a journal never make the same one. `turn`
 * tells ids of one stamp apart. Pure. */
CoreId store_id_next (CoreId last, const StoreStamp *stamp, guint turn);
/* n ids after the largest of the journal, ascending; not reserved. For subjects,
 * and for entries of one batch that name each other. */
gboolean
store_make_ids (Store *self, const StoreStamp *stamp, CoreId *ids, gsize n, GError **error);

/* --- entries ---------------------------------------------------------- */

/* One transaction, durable on return, all or nothing.
 *
 * An entry without id gets the next one; a given id is kept and must be new.
 * One without `round` joins the round that is named by the id of the first such
 * entry; `device` and `written_ms` are filled in when none and 0. Each entry is
 * checked against its kind's table. On success these fields of the entries and
 * the ids of the photos are set, and *last_seq (may be NULL) becomes the seq of
 * the last entry, if there is one; on failure nothing is touched. One exception
 * is the disk's own: on a network folder a disk that cannot sync after the
 * commit is STORE_ERROR_FAILED, though the batch may be there when it is loaded
 * again. */
gboolean store_append (Store *self,
                       const StoreBatch *batch,
                       const StoreStamp *stamp,
                       gint64 *last_seq,
                       GError **error);

/* Entries with seq > after_seq, by seq; 0 loads all. *last_seq (may be NULL) is
 * the last one's, or after_seq. A row that cannot be read is STORE_ERROR_CORRUPT
 * and says which. After writing, one's own come back too: know them by id. */
GPtrArray *store_load_entries (Store *self, gint64 after_seq, gint64 *last_seq, GError **error)
  G_GNUC_WARN_UNUSED_RESULT; /* of CoreEntry, owned */

/* One entry after the other, by seq, so that not all of them are in memory. The callback takes
 * the entry; FALSE with *error ends the reading. */
typedef gboolean (*StoreScan) (gint64 seq, CoreEntry *entry, gpointer data, GError **error);
gboolean
store_scan_entries (Store *self, gint64 after_seq, StoreScan scan, gpointer data, GError **error);
/* The same of these kinds alone. */
gboolean store_scan_kinds (Store *self,
                           gint64 after_seq,
                           const CoreKind *kinds,
                           gsize n_kinds,
                           StoreScan scan,
                           gpointer data,
                           GError **error);
/* Those of these seqs, in this order; one that is not there is STORE_ERROR_CORRUPT. */
GPtrArray *store_load_by_seq (Store *self, const gint64 *seqs, gsize n, GError **error)
  G_GNUC_WARN_UNUSED_RESULT; /* of CoreEntry, owned */
/* Those from the first to the last seq, both counted; by seq. */
GPtrArray *store_load_range (Store *self, gint64 first_seq, gint64 last_seq, GError **error)
  G_GNUC_WARN_UNUSED_RESULT; /* of CoreEntry, owned */
/* *out is NULL when no entry has this id. */
gboolean store_find_entry (Store *self, CoreId id, gint64 *seq, CoreEntry **out, GError **error);

/* 0 = there is none. */
gboolean store_last_seq (Store *self, gint64 *seq, GError **error);
/* All that is read between the two is of one moment, whatever others write. */
gboolean store_begin_reading (Store *self, GError **error);
gboolean store_end_reading (Store *self, GError **error);

GArray *store_load_subjects (Store *self,
                             GError **error) G_GNUC_WARN_UNUSED_RESULT; /* of StoreSubject */

/* A word that so many notes hold is not told apart by more of them. */
#define STORE_SEARCH_AMONG 200
/* Notes that contain all words, each as a beginning, newest first by (day, id); of more than
 * STORE_SEARCH_AMONG (or `limit`) the ones written last.
 * Any text is a valid query; one without a word finds nothing. Also finds notes
 * that were taken back or replaced: the caller knows which are live. */
GArray *store_search (Store *self, const char *text, guint limit, GError **error)
  G_GNUC_WARN_UNUSED_RESULT; /* of CoreId */

/* TRUE in *changed once after another program or connection has written. Ask on
 * the writing Store (from its thread): elsewhere one's own writes look foreign. */
gboolean store_poll (Store *self, gboolean *changed, GError **error);

/* --- photos ----------------------------------------------------------- */

/* Copies the open file (from its start; the offset is left alone) into the
 * journal under its hash, durable on return. Fills hash, bytes, format of *out
 * and leaves the rest. *existed: the same file is there already (a duplicate).
 * The row comes with store_append(). */
gboolean store_photo_put (Store *self,
                          int fd,
                          const char *format,
                          StorePhoto *out,
                          gboolean *existed,
                          GError **error);
/* STORE_ERROR_NOT_FOUND when there is no row of that hash. */
gboolean store_photo_find (Store *self, const char *hash, StorePhoto *out, GError **error);
GArray *store_load_photos (Store *self,
                           GError **error) G_GNUC_WARN_UNUSED_RESULT; /* of StorePhoto */
/* Absolute path of the original, whether or not the file is there. */
char *store_photo_path (Store *self, const StorePhoto *photo) G_GNUC_WARN_UNUSED_RESULT;

/* --- drafts: typed or marked, not yet recorded ------------------------- */

typedef struct
{
  char *key;  /* "round:<place>", "bench:<photo>", … : the caller's */
  char *body; /* UTF-8, the caller's form */
  gint64 written_ms;
} StoreDraft;

void store_draft_free (StoreDraft *draft);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreDraft, store_draft_free)

gboolean
store_draft_put (Store *self, const char *key, const char *body, gint64 now_ms, GError **error);
/* No such draft is no error. */
gboolean store_draft_remove (Store *self, const char *key, GError **error);
/* Of StoreDraft, owned, the latest first. */
GPtrArray *store_load_drafts (Store *self, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* --- what a collection kept outside of the journal is known by --------- */

typedef struct
{
  guint64 count; /* entries */
  gint64 last_seq;
  CoreId xor_ids; /* XOR of all entry ids */
} StoreTotals;

/* At once where they are kept and nothing else has been at the entries since, else summed up
 * over all of them. Between store_begin_reading() and store_end_reading(). */
gboolean store_totals (Store *self, StoreTotals *out, GError **error);
void store_totals_add (StoreTotals *totals, CoreId id, gint64 seq); /* for the loader's own sum */
/* Writes down what the loader has summed up, if its last entry still is the last; from then on
 * store_append() keeps them up to date. */
gboolean store_keep_totals (Store *self, const StoreTotals *totals, GError **error);

/* --- checking ---------------------------------------------------------- */

typedef enum
{
  STORE_PROBLEM_DATABASE,      /* what: SQLite's finding */
  STORE_PROBLEM_REFERENCE,     /* what: table and row that points nowhere */
  STORE_PROBLEM_ENTRY,         /* what: seq; detail: why it cannot be read */
  STORE_PROBLEM_SEARCH,        /* the search index disagrees with the notes */
  STORE_PROBLEM_PHOTO_MISSING, /* what: path inside the folder */
  STORE_PROBLEM_PHOTO_CHANGED, /* what: path; the bytes are not those of the hash */
  STORE_PROBLEM_PHOTO_NO_ROW,  /* what: hash that a photo entry names */
  STORE_PROBLEM_TO_COME,       /* what: seq; detail: its day, after all that was ever written */
  STORE_PROBLEM_ID /* what: seq; its id fits neither its place nor when it was written */
} StoreProblemKind;

typedef struct
{
  StoreProblemKind kind;
  char *what;
  char *detail; /* technical, may be NULL */
  gboolean unchecked; /* the file is too damaged for this kind to be looked for */
} StoreProblem;

typedef struct
{
  guint64 n_entries; /* that could be read */
  guint64 n_subjects;
  guint64 n_photos;
  guint64 n_files_unnamed; /* photo files without a row: left by a crash, harmless */
  GPtrArray *problems;     /* of StoreProblem, owned; empty = clean */
  /* Of StoreProblem, owned; no damage: entries of which this program does not know all. what: seq;
   * detail: what it does not know */
  GPtrArray *beyond;
  GPtrArray *odd; /* of StoreProblem, owned; read, and perhaps not as it was written */
} StoreReport;

/* Is each page of the file what its table or index needs it to be? Not what is written in the rows;
 * about a millisecond for a megabyte. FALSE: damaged, or it could not be read. A file of more than
 * most_bytes is not looked at, and TRUE. */
gboolean store_check_pages (Store *self, gint64 most_bytes, GError **error);

/* Reads everything. FALSE only when the checking itself failed. */
gboolean store_check (Store *self, StoreReport **report, GError **error);
void store_report_free (StoreReport *report);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreReport, store_report_free)

/* --- copies of the whole, and what is left of a damaged one -------------- */

int store_schema_version (void); /* the newest that this program reads */

typedef struct
{
  guint64 entries, subjects, photos;
} StoreCounts;

gboolean store_counts (Store *self, StoreCounts *out, GError **error);

/* Writes the database, as it stands at one moment, to DIR/journal.sqlite, which must not be there:
 * 0600, synced, nothing pending, no snapshots. Others may write meanwhile. A file that was begun
 * is removed on failure. */
gboolean store_dump (Store *self, const char *dir, GError **error);

/* A photo whose file is another one in the copy. */
typedef struct
{
  char hash[STORE_HASH_LEN + 1];
  char new_hash[STORE_HASH_LEN + 1];
  gint64 new_bytes;
} StorePhotoChange;

/* In what store_dump() wrote, and nowhere else: rows and entries name the new files. */
gboolean store_dump_change_photos (const char *dir,
                                   const StorePhotoChange *changes,
                                   gsize n,
                                   GError **error);

typedef struct
{
  guint64 entries;          /* saved */
  guint64 entries_lost;     /* known to have been there; there may have been more */
  guint64 subjects;         /* saved, with those made anew */
  guint64 subjects_guessed; /* their row was lost; their kind follows from their entries */
  guint64 photos;           /* rows */
  guint64 pages_missing; /* not 0: the end of the file is not there, more is lost than is known */
} StoreSalvage;

/* Reads every sound row of the damaged journal in `dir`, page by page, whether or not SQLite can
 * open it, and writes them to a new journal in the empty folder `target`. `dir` is not changed.
 * Photo files, drafts and snapshots are not copied. STORE_ERROR_CORRUPT when nothing is left. */
gboolean
store_salvage (const char *dir, const char *target, StoreSalvage *out, GError **error);

/* --- two copies of a journal become one --------------------------------- */

typedef enum
{
  STORE_MERGE_MISSING, /* the file of a photo is not in the other folder */
  STORE_MERGE_CHANGED  /* or is not the one that was added */
} StoreMergeWhy;

typedef struct
{
  char hash[STORE_HASH_LEN + 1];
  char format[8];
  gint64 bytes;
  StoreMergeWhy why;
} StoreMergeLeft;

/* What came. */
typedef struct
{
  guint64 entries;
  guint64 both; /* entries that were here already */
  guint64 subjects[CORE_N_SUBJECTS]; /* by kind */
  guint64 photos; /* rows */
  guint64 files;  /* of photos, also of rows that were here without theirs */
  gint64 bytes;   /* of the files */
  gint64 drafts;  /* typed there and not recorded: they stay there */
  GArray *left;   /* StoreMergeLeft: photos whose row is here now, and whose file is nowhere */
  gboolean stranger; /* it has no entry in common: only what would come was counted */
} StoreMerge;

void store_merge_free (StoreMerge *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (StoreMerge, store_merge_free)

typedef enum
{
  STORE_MERGE_ALL = 0,
  STORE_MERGE_ROWS_ONLY = 1 << 0, /* photo files are looked at and not copied: for a trial */
  STORE_MERGE_COPY_ONLY = 1 << 1  /* of a journal with no entry in common nothing comes */
} StoreMergeFlags;

/* Are both folders one journal, by whatever names? */
gboolean store_is_same (const char *dir, const char *other);

/* The union of both, in this one: one transaction, all or nothing, files of photos first. `other`
 * comes from store_open_foreign() and is not changed. Entries keep their ids, devices and rounds;
 * again it brings nothing. STORE_ERROR_CORRUPT and _DIFFERS speak of the other one. */
StoreMerge *store_merge (Store *self, Store *other, StoreMergeFlags flags, GError **error)
  G_GNUC_WARN_UNUSED_RESULT;

/* What one merge brought: from and to which entry, by their seq. */
typedef struct
{
  gint64 first, last;
} StoreMerged;

/* Those of merges on this device. */
GArray *store_load_merged (Store *self, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* --- the Store's own thread -------------------------------------------- */

/* Runs on the Store's thread. Returns the result (NULL is a result) or sets
 * *error. `data` are copies that belong to the job. */
typedef gpointer (*StoreJob) (Store *store, gpointer data, GError **error);

/* Jobs run in the order of the calls. A cancelled job that has not begun is
 * G_IO_ERROR_CANCELLED and has done nothing; one that has begun is run to its
 * end and tells the truth. The callback comes in the caller's main context. */
void store_run_async (Store *self,
                      StoreJob job,
                      gpointer data,
                      GDestroyNotify data_free,
                      GDestroyNotify result_free,
                      GCancellable *cancellable,
                      GAsyncReadyCallback callback,
                      gpointer user_data);
gpointer store_run_finish (GAsyncResult *result, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Store, store_close)
