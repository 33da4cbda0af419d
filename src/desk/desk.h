/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk.h — one open journal with its collection in memory: the keeper's verbs.
 *
 * A Desk belongs to the main thread. Every verb is an async/finish pair; what it
 * wrote is durable when finish returns TRUE. Reading is synchronous and cheap:
 * subjects are immutable, reference-counted snapshots that stay valid as long
 * as they are held, also after the journal has moved on.
 *
 * Signals: "changed" (DeskSubject *subject, or NULL for many or everything) after any
 * entry, "today-changed", "undo-changed", "backup-done".
 */
#pragma once

#include <gio/gio.h>

#include "core/core-entry.h"
#include "core/core-fasting.h"
#include "core/core-fold.h"
#include "core/core-forecast-lot.h"
#include "core/core-forecast.h"
#include "core/core-growth.h"
#include "core/core-plan.h"
#include "core/core-round.h"
#include "core/core-sex.h"
#include "core/core-standin.h"
#include "core/core-state.h"
#include "desk/desk-when.h"
#include "words/words.h"

#define DESK_TYPE_DESK (desk_get_type ())
G_DECLARE_FINAL_TYPE (Desk, desk, DESK, DESK, GObject)

/* Errors that a verb of the desk itself can give; store and imaging keep their own domains. */
typedef enum
{
  DESK_ERROR_REFUSED,      /* a CoreRefusal: desk_error_refusal() */
  DESK_ERROR_VALUE,        /* a key or value was not accepted */
  DESK_ERROR_NOT_FOUND,    /* no such subject, entry, species, photo */
  DESK_ERROR_AMBIGUOUS,    /* a beginning that fits several */
  DESK_ERROR_NOTHING,      /* nothing to undo or redo */
  DESK_ERROR_ROUND,        /* the line has problems: desk_round_preview() lists them */
  DESK_ERROR_EXISTS,
  DESK_ERROR_FAILED,
  DESK_ERROR_BACKUP,       /* a backup is damaged */
  DESK_ERROR_STRANGER,     /* of a merge: no copy of this journal */
  DESK_ERROR_DAMAGED       /* the journal is damaged, and what was to be written was written */
} DeskError;
#define DESK_ERROR (desk_error_quark ())
GQuark desk_error_quark (void);
CoreRefusal desk_error_refusal (const GError *error); /* NOTHING when it is none */
/* The key whose value was not accepted, as it stands in the message ("key=value" or "key: …"), so
 * that a form can name its field instead; NULL when none is named. Borrowed. */
const char *desk_error_key (const GError *error, const char **value);

/* Whose fault an error of any room is; the exit codes of the command line. */
typedef enum
{
  DESK_FAULT_REQUEST, /* cannot be met; the message says what to do */
  DESK_FAULT_DAMAGED, /* the journal is damaged or too new */
  DESK_FAULT_BUSY     /* another program is writing */
} DeskFault;
DeskFault desk_error_fault (const GError *error);

/* HH:MM → minutes after midnight; -2 when it is no time. */
int desk_minute_from_text (const char *text);

/* The species profiles without a journal. */
typedef struct _DeskProfiles DeskProfiles;
DeskProfiles *desk_profiles_load (GError **error) G_GNUC_WARN_UNUSED_RESULT;
DeskProfiles *desk_profiles_ref (DeskProfiles *self);
void desk_profiles_unref (DeskProfiles *self);
/* By scientific or trade name or its unique beginning; "unknown" = the general one. Borrowed.
 * DESK_ERROR_NOT_FOUND/AMBIGUOUS. */
const CoreProfile *desk_profiles_find (DeskProfiles *self, const char *species, GError **error);
/* const CoreProfile *, all but the general one, by file name; borrowed elements. */
GPtrArray *desk_profiles_species (DeskProfiles *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskProfiles, desk_profiles_unref)

/* ---- one subject, as of now ------------------------------------------------ */

typedef struct _DeskSubject DeskSubject;

DeskSubject *desk_subject_ref (DeskSubject *self);
void desk_subject_unref (DeskSubject *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskSubject, desk_subject_unref)
#define DESK_TYPE_SUBJECT (desk_subject_get_type ())
GType desk_subject_get_type (void); /* boxed */

CoreId desk_subject_id (const DeskSubject *self);
CoreSubjectKind desk_subject_kind (const DeskSubject *self);
const char *desk_subject_label (const DeskSubject *self); /* "14" or the code or the name of a place */
const char *desk_place_name (const DeskSubject *place);    /* its name; its code when it has none */
const CoreState *desk_subject_state (const DeskSubject *self);
const CoreProfile *desk_subject_profile (const DeskSubject *self);       /* general when unknown */
gboolean desk_subject_species_known (const DeskSubject *self);
const CoreForecast *desk_subject_forecast (const DeskSubject *self);     /* never NULL; with its reasons */
/* The same without its reasons: for lists, a third of the time. */
const CoreForecast *desk_subject_outlook (const DeskSubject *self);
CoreFasting desk_subject_fasting (const DeskSubject *self); /* what is the matter if it refuses */
const CoreLotForecast *desk_subject_lot_forecast (const DeskSubject *self); /* of a lot; never NULL */
/* What moved it; how many. Made anew on each call: some ten forecasts. */
gsize desk_subject_lot_reasons (const DeskSubject *self, CoreReason out[CORE_LOT_REASONS]);
const CoreSexVerdict *desk_subject_verdict (const DeskSubject *self);    /* never NULL */
const CorePlan *desk_subject_plan (const DeskSubject *self);             /* today … today + 27 */
double desk_subject_body_mm (const DeskSubject *self);                   /* NAN unknown */
gboolean desk_subject_living (const DeskSubject *self);                  /* exists, not ended */
/* The place it stands on and its order there; false = nowhere entered. */
gboolean desk_subject_place (const DeskSubject *self, CoreId *place, double *at);
/* The outermost of the places that it stands on, or is; false = it stands nowhere. */
gboolean desk_subject_shelf (const DeskSubject *self, CoreId *shelf);

/* ---- opening ---------------------------------------------------------------- */

typedef enum
{
  DESK_OPEN_DEFAULT = 0,
  DESK_OPEN_CREATE = 1 << 0, /* a new journal; STORE_ERROR_EXISTS when there is one */
  DESK_OPEN_LAZY = 1 << 1,   /* compute a subject only when asked, on the asking thread; no polling:
                              * for command line, demo and tests */
  DESK_OPEN_UNCHECKED = 1 << 2 /* its pages are not looked through: for who asks what is wrong */
} DeskOpenFlags;
/* A database of up to so many bytes is looked through when it is opened, for about a millisecond a
 * megabyte; in a larger one damage shows where it is read. Tests set it. */
extern gint64 desk_check_most;

/* The moment (UTC, ms) and 16 random bytes of one action. */
typedef void (*DeskClock) (gint64 *now_ms, guint8 random[16], gpointer data);

/* `today` is the keeper's civil day; `now_ms` and randomness enter with each verb through
 * the clock set here (NULL = system). */
void desk_open_async (const char *dir, CoreDay today, DeskOpenFlags flags,
                      GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
Desk *desk_open_finish (GAsyncResult *result, GError **error) G_GNUC_WARN_UNUSED_RESULT;
/* Runs the same pair on a private main context: for command line, demo and tests. */
Desk *desk_open (const char *dir, CoreDay today, DeskOpenFlags flags, GError **error)
  G_GNUC_WARN_UNUSED_RESULT;
/* With a clock of its own from the first entry on: see desk_set_clock(). */
Desk *desk_open_by (const char *dir, CoreDay today, DeskOpenFlags flags, DeskClock clock, gpointer data,
                    GError **error) G_GNUC_WARN_UNUSED_RESULT;
void desk_close_async (Desk *self, GAsyncReadyCallback callback, gpointer data);
gboolean desk_close_finish (Desk *self, GAsyncResult *result, GError **error);

const char *desk_dir (Desk *self);
gboolean desk_read_only (Desk *self);
/* FALSE and why, where something that was asked for could not be read: what was answered may lack
 * it. Of damage this stays so, and nothing is written any more; the signal "damaged" tells it once.
 */
gboolean desk_is_readable (Desk *self, GError **error);
gboolean desk_is_damaged (Desk *self);
gboolean desk_is_demo (Desk *self);           /* the journal says so itself */
CoreDay desk_today (Desk *self);
void desk_set_today (Desk *self, CoreDay today);
/* NULL = the system's. `data` must outlive the desk. */
void desk_set_clock (Desk *self, DeskClock clock, gpointer data);
int desk_scheme (Desk *self);                 /* L-number of the hatchling: 1 or 2 */
CoreId desk_journal_id (Desk *self);          /* the subject that is the journal itself */

/* ---- reading ---------------------------------------------------------------- */

/* Element type DeskSubject; a new reference to each. */
GPtrArray *desk_places (Desk *self);                        /* shelves in order of name, homes left out */
GPtrArray *desk_animals_on (Desk *self, CoreId place);      /* living, by (at, number); also those in homes within it */
GPtrArray *desk_animals (Desk *self);                       /* all living */
GPtrArray *desk_past_animals (Desk *self);                  /* ended, latest first */
GPtrArray *desk_lots (Desk *self);
/* The number of an egg case among those of its mother: as said, else by the day of laying; 0 = unknown. */
int desk_series_of (Desk *self, DeskSubject *eggcase);
GPtrArray *desk_eggcases (Desk *self);                      /* not hatched out, no duds */
GPtrArray *desk_cultures (Desk *self);
GPtrArray *desk_past (Desk *self, CoreSubjectKind kind);    /* ended, latest first */
/* All that stands there, by (at, label): animals, lots, egg cases, cultures. */
GPtrArray *desk_subjects_on (Desk *self, CoreId place);
GPtrArray *desk_subjects_nowhere (Desk *self); /* those that stand on no shelf, by number */
DeskSubject *desk_get (Desk *self, CoreId id);              /* NULL = none */
/* By number ("14") or code or name of a place; DESK_ERROR_NOT_FOUND/AMBIGUOUS. */
DeskSubject *desk_find (Desk *self, const char *label, GError **error);
/* The same, but also a subject whose `add` was undone, by a number that it ever had. */
DeskSubject *desk_find_ever (Desk *self, const char *label, GError **error);
/* Entries of a subject, newest first; borrowed until the next change. live[i] tells which count. */
/* const CoreEntry *; of what came out of a lot also those of the lot that it has from there, which
 * keep the lot as their subject. */
GPtrArray *desk_history (Desk *self, CoreId subject, GError **error); /* NULL: it cannot be read */
gboolean desk_entry_is_live (Desk *self, CoreId entry);
const CoreEntry *desk_entry (Desk *self, CoreId entry);     /* NULL */
/* What the subject is called that an entry names (a place, a lot, a parent); NULL = none. */
char *desk_entry_names_subject (Desk *self, const CoreEntry *entry);
/* What a void takes back in the end, or, where it takes back a void, brings back again
 * (*restores). NULL when it is no void, or what it names is not here. */
const CoreEntry *desk_entry_named (Desk *self, const CoreEntry *entry, gboolean *restores);
const GPtrArray *desk_profiles (Desk *self);                /* CoreProfile * */
const CoreProfile *desk_find_profile (Desk *self, const char *species, GError **error);
/* Growth after `moults` moults (-1 = the next). */
CoreGrowth desk_growth (Desk *self, DeskSubject *subject, CoreDimension what, int moults);

/* The plan of a span, merged over subjects; `place` none = everything. */
typedef struct
{
  CoreDay from, to;
  GPtrArray *subjects;      /* DeskSubject *, one per row below */
  GArray *tasks;            /* DeskTask */
  GArray *held;             /* DeskHeldTask */
} DeskPlan;
typedef struct { DeskSubject *subject; CoreTask task; } DeskTask;       /* subject borrowed from `subjects` */
typedef struct { DeskSubject *subject; CoreHeld held; } DeskHeldTask;
DeskPlan *desk_plan (Desk *self, CoreDay from, CoreDay to, CoreId place);
void desk_plan_free (DeskPlan *plan);
gboolean desk_subject_standin (DeskSubject *self, CoreDay from, CoreDay to, CoreStandin *out);
/* The plan of one subject over any span; `out` initialised. */
gboolean desk_subject_plan_span (DeskSubject *self, CoreDay from, CoreDay to, CorePlan *out);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskPlan, desk_plan_free)

/* The same in a few bytes a row, for spans and collections of any size. */
typedef struct
{
  double weight;
  guint32 subject; /* index into `subjects` */
  guint32 nth;     /* of CoreTask */
  CoreDay day, due, latest;
  guint8 rank, kind; /* CoreTaskRank, CoreTaskKind */
  gint8 prey;        /* to feed: the first that is offered, or -1 */
  guint8 projected;
} DeskAgendaRow;
typedef struct
{
  guint32 subject;
  CoreDay until, ask_again;
  guint8 kind;
} DeskAgendaHeld;
typedef struct
{
  CoreDay from, to;
  GPtrArray *subjects; /* DeskSubject *, those with a row, or to be left alone */
  GArray *rows;        /* DeskAgendaRow, in the order of a DeskPlan */
  GArray *held;        /* DeskAgendaHeld, by number */
  GArray *alone;       /* guint32, index into `subjects`: animals to be left alone, by number */
} DeskAgenda;
DeskAgenda *desk_agenda (Desk *self, CoreDay from, CoreDay to, CoreId place);
/* The whole task of a row, with prey and reasons. */
gboolean desk_agenda_task (DeskAgenda *agenda, guint row, CoreTask *out);
void desk_agenda_free (DeskAgenda *agenda);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskAgenda, desk_agenda_free)

/* ---- writing ---------------------------------------------------------------- */

/* Append entries as one round (one undo). Takes ownership of the array's entries; the desk
 * fills id, device, round, written time. Each is checked (DESK_ERROR_REFUSED). */
void desk_write_async (Desk *self, GPtrArray *entries, GCancellable *cancellable,
                       GAsyncReadyCallback callback, gpointer data);
gboolean desk_write_finish (Desk *self, GAsyncResult *result, CoreId *first, GError **error);

/* A new subject from key=value pairs (NULL-ended array of "key=value"), as on the command
 * line; one round. */
void desk_add_async (Desk *self, CoreSubjectKind kind, const char *const *pairs, CoreDay day,
                     GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
DeskSubject *desk_add_finish (Desk *self, GAsyncResult *result, GError **error);

/* One entry from a kind's name and pairs, as on the command line. */
void desk_record_async (Desk *self, CoreId subject, const char *kind, const char *const *pairs,
                        CoreDay day, CoreDay earliest, int minute,
                        GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean desk_record_finish (Desk *self, GAsyncResult *result, CoreId *id, GError **error);

void desk_void_async (Desk *self, CoreId entry, GAsyncReadyCallback callback, gpointer data);
gboolean desk_void_finish (Desk *self, GAsyncResult *result, GError **error);
/* Replaces an entry by a copy with these pairs changed; "day=" and "earliest=" too. */
void desk_correct_async (Desk *self, CoreId entry, const char *const *pairs,
                         GAsyncReadyCallback callback, gpointer data);
gboolean desk_correct_finish (Desk *self, GAsyncResult *result, CoreId *id, GError **error);

/* What an undo or redo did, for a sentence: the entries it took back or restored. */
typedef struct
{
  gboolean redo;
  GPtrArray *entries; /* CoreEntry *, copies, in the order written */
  char *label;        /* of the subject of the first, as it was called before or is now */
  char *place;        /* the same of the place or lot that `said` names; may be NULL */
  CoreEntry *said;    /* the fact that this is about: what a void among them took back */
  gboolean restores;  /* `said` counts again; else it is taken back */
  CoreEntry *again;   /* what counts again now that its correction is taken back; may be NULL */
} DeskChange;
void desk_change_free (DeskChange *change);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskChange, desk_change_free)
gboolean desk_can_undo (Desk *self);
gboolean desk_can_redo (Desk *self);
void desk_undo_async (Desk *self, GAsyncReadyCallback callback, gpointer data);
void desk_redo_async (Desk *self, GAsyncReadyCallback callback, gpointer data);
DeskChange *desk_undo_finish (Desk *self, GAsyncResult *result, GError **error); /* also of redo */

/* Put an animal before another on its shelf (NULL id = at the end); writes `housed`. */
void desk_place_before_async (Desk *self, CoreId animal, CoreId place, CoreId before,
                              GAsyncReadyCallback callback, gpointer data);
gboolean desk_place_before_finish (Desk *self, GAsyncResult *result, GError **error);

/* Lots. Each verb is one round: a new subject stands after its lot, or at the end of `place`
 * (none = the lot's). `moulted`: how many of the n had moulted before the others of the lot, the
 * first ones made; -1 = not said. A recount is an entry `recounted`. */
void desk_separate_async (Desk *self, CoreId lot, guint n, int moulted, CoreId place, CoreDay day,
                          GAsyncReadyCallback callback, gpointer data);
/* Element type DeskSubject: the new singles, in order. */
GPtrArray *desk_separate_finish (Desk *self, GAsyncResult *result, GError **error);
void desk_split_async (Desk *self, CoreId lot, guint n, int moulted, const char *code, CoreDay day,
                       GAsyncReadyCallback callback, gpointer data);
DeskSubject *desk_split_finish (Desk *self, GAsyncResult *result, GError **error);
void desk_join_async (Desk *self, CoreId into, CoreId from, CoreDay day,
                      GAsyncReadyCallback callback, gpointer data);
gboolean desk_join_finish (Desk *self, GAsyncResult *result, GError **error);

/* A task done or put off: writes the entry that its kind calls for. */
void desk_task_done_async (Desk *self, const CoreTask *task, GAsyncReadyCallback callback, gpointer data);
void desk_task_put_off_async (Desk *self, const CoreTask *task, CoreDay until,
                              GAsyncReadyCallback callback, gpointer data);
gboolean desk_task_finish (Desk *self, GAsyncResult *result, GError **error);

/* ---- rounds ----------------------------------------------------------------- */

typedef struct
{
  CoreRoundLine line;
  CoreRoundPlan plan;        /* what is understood; not to be written while there are problems */
  GArray *cups;              /* CoreRoundCup: the animals in order, then the lots */
  GPtrArray *subjects;       /* DeskSubject *, one per cup */
  CoreDay day;               /* of the round */
} DeskRoundPreview;
/* `terms`: the vocabulary (words_round_terms); kinds and lots of the shelf come to it. day NONE =
 * today. Pure, fast, nothing written. */
DeskRoundPreview *desk_round_preview (Desk *self, CoreId place, const char *line,
                                      const CoreRoundTerm *terms, gsize n_terms, CoreDay day);
void desk_round_preview_free (DeskRoundPreview *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskRoundPreview, desk_round_preview_free)
/* `when`: all three CORE_DAY_NONE for today. `seen_by`: who saw it, where that was not the keeper; NULL. */
void desk_round_write_async (Desk *self, CoreId place, const char *line,
                             const CoreRoundTerm *terms, gsize n_terms, const DeskWhen *when,
                             const char *seen_by,
                             GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean desk_round_write_finish (Desk *self, GAsyncResult *result, gsize *n_written, GError **error);

/* ---- cautions --------------------------------------------------------------- */

/* All are on until the keeper switches one off: `set caution.NAME` on the journal. */
gboolean desk_caution_on (Desk *self, WordsCaution caution);
/* What comes with it and is not switched off: bits 1 << WordsCaution. */
unsigned desk_cautions_of_prey (Desk *self, int prey);
/* Usual temperatures, °C, NAN = not said, against what stands on the place, or where nothing does (or
 * for no place) against the general kind: past “look at once”? Said whatever is switched off. */
CorePast desk_temperatures_past (Desk *self, CoreId place, double day_c, double night_c);
CorePast desk_place_past (Desk *self, const DeskSubject *place); /* by what was entered for it */
unsigned desk_cautions_of_round (Desk *self, const DeskRoundPreview *preview);

/* ---- photos ----------------------------------------------------------------- */

typedef struct
{
  CoreId photo;         /* = the photo entry */
  char hash[65];
  CoreDay taken;        /* from EXIF, or CORE_DAY_NONE */
  int minute;           /* or -1 */
  int width, height;    /* upright */
  CoreDay day;          /* on which it is entered */
  gboolean undated;     /* neither the picture nor the keeper said when: it proves no look */
  CoreWrongDay wrong;   /* why: the camera says `taken`, which cannot be */
  gboolean duplicate;   /* this very file was already in the journal */
  CoreId of;            /* of a duplicate: on whom it lies too; none: it lies on nobody now */
} DeskPhoto;
/* Decodes (to check it), stores, writes `photo`. day NONE = the day taken if that can
 * be (core_wrong_day), else today. */
void desk_photo_add_async (Desk *self, CoreId subject, GFile *file, CoreDay day,
                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean desk_photo_add_finish (Desk *self, GAsyncResult *result, DeskPhoto *out, GError **error);
char *desk_photo_path (Desk *self, CoreId photo);           /* NULL = no such photo */
/* Marks and evidence name the first entry of a photo that was corrected since. */
CoreId desk_photo_first (Desk *self, CoreId photo);
gboolean desk_photo_info (Desk *self, CoreId photo, DeskPhoto *out);
/* Detach = void of the photo entry; the file stays. */

/* ---- drafts ----------------------------------------------------------------- */

/* Kept within 2 s, offered after a crash. body NULL removes. */
void desk_draft_set (Desk *self, const char *key, const char *body);
GPtrArray *desk_draft_keys (Desk *self); /* char *, owned by the array; of drafts that are there */
char *desk_draft_get (Desk *self, const char *key); /* NULL = none */

/* ---- checking --------------------------------------------------------------- */

typedef struct
{
  gboolean clean;       /* no damage */
  GPtrArray *problems;  /* char *, damage: one line each, plain English */
  GPtrArray *conflicts; /* char *, what the keeper settles; no damage */
  GPtrArray *notes;     /* char *, entries of which this version does not know all; no damage */
  guint entries, subjects, photos;
} DeskCheck;
/* Its texts in `lang`. */
void desk_check_async (Desk *self,
                       WordsLang lang,
                       GCancellable *cancellable,
                       GAsyncReadyCallback callback,
                       gpointer data);
DeskCheck *desk_check_finish (Desk *self, GAsyncResult *result, GError **error);
void desk_check_free (DeskCheck *check);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskCheck, desk_check_free)

/* ---- a whole journal at once: desk-bulk.c ------------------------------------ */

/* For invented collections: entries that are sound by construction, neither checked nor folded.
 * Blocks. `dir` must be empty or not exist; a failure leaves a part there. All entries of one
 * round are one undo; the moment and the random bytes of each come from the caller. */
typedef struct _DeskBulk DeskBulk;
DeskBulk *desk_bulk_new (const char *dir, CoreDay day, gint64 now_ms, const guint8 random[16],
                         GError **error) G_GNUC_WARN_UNUSED_RESULT;
CoreId desk_bulk_journal (DeskBulk *self);
/* Ends the round before; FALSE once something could not be written (finish says what). */
gboolean desk_bulk_round (DeskBulk *self, gint64 now_ms, const guint8 random[16]);
CoreId desk_bulk_subject (DeskBulk *self, CoreSubjectKind kind);
CoreId desk_bulk_add (DeskBulk *self, CoreEntry *entry); /* takes it; gives its id */
guint64 desk_bulk_entries (DeskBulk *self);              /* added so far */
gboolean desk_bulk_finish (DeskBulk *self, GError **error); /* durable; frees in any case */
void desk_bulk_free (DeskBulk *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskBulk, desk_bulk_free)

/* Run an async verb to its end on this thread's default main context (command line, demo, tests):
 * pass desk_sync_cb and a DeskSync, then desk_sync_wait() returns the result, which is the
 * caller's to unref (g_autoptr (GAsyncResult)). */
typedef struct { GMainContext *context; GAsyncResult *result; } DeskSync;
void desk_sync_cb (GObject *source, GAsyncResult *result, gpointer sync);
GAsyncResult *desk_sync_wait (DeskSync *sync);
