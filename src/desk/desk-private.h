/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-private.h — what the files of this room share.
 *
 * Main thread only, but for DeskSubject and DeskFold: these are immutable once
 * made and counted atomically; what a subject computes it computes once, under
 * its own lock.
 */
#pragma once

#include "desk/desk-collection.h"
#include "desk/desk-kin.h"
#include "desk/desk-when.h"
#include "exchange/exch-profile.h"
#include "store/store.h"
#include "words/words.h"

struct _DeskProfiles
{
  ExchProfiles *set;
  GPtrArray *list; /* const CoreProfile *, of `set` */

  /* Owned; NULL in the shipped ones themselves */
  DeskProfiles *shipped;
  GPtrArray *copies; /* DeskKindCopy * of the journal, and for each … */
  GPtrArray *why;    /* … char *, why it is left out; NULL = it is used */
};                   /* g_atomic_rc_box */

typedef struct _DeskOp DeskOp;
typedef struct _DeskWatch DeskWatch;
typedef struct _DeskFacts DeskFacts; /* desk-search-private.h */

/* A shelf as it was: worked out once while neither the journal nor today changes. */
typedef struct
{
  GPtrArray *subjects; /* owned, NULL = none kept */
  CoreId place;
  CoreDay day, today;
  gint64 last_seq; /* of the journal, then */
  guint n_there;
} DeskThen;

struct _Desk
{
  GObject parent_instance;

  /* Owned */
  char *dir;
  Store *store;
  Store *reader; /* the main thread's own connection, for entries that are asked for */
  Store *seeker; /* searching, on a thread of its own; NULL until somebody searches */
  DeskProfiles *profiles; /* with the keeper's own */
  char *kinds;            /* the settings that these were made from; NULL = none */
  DeskKin *kin;
  DeskCollection all;
  GArray *search_rows; /* DeskSearchRow; desk-search-rows.c, NULL until somebody searches */
  GHashTable *photos;  /* hash → StorePhoto */
  GHashTable *drafts;  /* key → body */
  GHashTable *unsaved; /* keys of drafts to be written */
  DeskThen then;
  GArray *merged;      /* StoreMerged: what came by merges on this device, in the order of writing */
  GQueue ops;          /* DeskOp, the first is under way */
  GThreadPool *pool;
  GTask *closing; /* waits for the queue to run empty */
  DeskWatch *watch;    /* the backup of each day; NULL until desk_backups_watch() */

  /* Borrowed: the clock given by the face */
  DeskClock clock;
  gpointer clock_data;

  CoreDay today;
  CoreId device;
  DeskOpenFlags flags;
  guint poll_id;
  guint snapshot_id;
  guint warm_id;
  guint draft_id;
  guint damaged_id;
  guint pending; /* computations under way */
  gboolean all_changed;
  gboolean polling;
  gboolean keeping; /* a snapshot is being written */
  gboolean opened, closed;
  gboolean had_undo, had_redo;
  gboolean plans_ahead; /* few enough live that the plan of each is held ready */

  DeskFacts *facts; /* owned: desk-search-facts.c, NULL until somebody searches */
};

/* Of all shipped profiles together: copies follow from the entries. desk-profile.c */
char *desk_profiles_key (DeskProfiles *self);
const CoreProfile *desk_profiles_for (DeskProfiles *self, const char *scientific);
gboolean desk_profiles_follow (Desk *self); /* the journal's copies; TRUE when they have changed */
gboolean desk_snapshot_is_due (Desk *self);   /* desk-snapshot.c */
void desk_snapshot_write (Desk *self);

/* ---- subjects: desk-subject.c ---- */

DeskSubject *
desk_subject_new (Desk *desk, DeskRecord *record, DeskFold *fold, CoreDay today);
DeskFold *desk_subject_fold (const DeskSubject *self);
gboolean desk_subject_uses_place (const DeskSubject *self, CoreId place);
/* Any thread; each part once. */
void desk_subject_compute (const DeskSubject *self, gboolean plan);
/* Along its own stays, from before its first stage to 400 days ahead. */
CoreStatus desk_subject_warmth (const DeskSubject *self, CoreWarmth *out);
/* The same, its forecast and its plan (state, forecast, from and to of `as`), if its state were this
 * one; `places` are its own and that one. */
GPtrArray *desk_subject_places_with (Desk *desk, const DeskSubject *self, CoreId place);
CoreStatus
desk_subject_warmth_as (const DeskSubject *self, const CoreState *state, GPtrArray *places, CoreWarmth *out);
CoreStatus
desk_subject_forecast_as (DeskSubject *self, const CoreState *state, const CoreWarmth *warmth, CoreForecast *out);
CoreStatus
desk_subject_lot_forecast_as (DeskSubject *self, const CoreState *state, const CoreWarmth *warmth, CoreLotForecast *out);
CoreStatus desk_subject_plan_as (DeskSubject *self, const CorePlanInput *as, GPtrArray *places, CorePlan *out);
/* What an earlier run computed of a subject, or what this one has computed so far. */
struct _DeskKept
{
  DeskSaid *said;        /* owned, or NULL */
  CoreForecast *outlook; /* owned, or NULL: of the day of the snapshot */
  DeskHeard heard;       /* what that outlook was given */
};
void desk_kept_free (DeskKept *self);
/* From now on it is heard by others, as the latest of this subject. Takes `kept` (or NULL), made
 * from the same entries and places; before anything is computed. */
void desk_subject_speak (DeskSubject *self, const DeskSubject *before, DeskKept *kept);
/* A new one, for a later run; parts of it that are not known yet are NULL. */
DeskKept *desk_subject_keep (const DeskSubject *self);
/* Others tell it another thing now than when it was computed. */
gboolean desk_subject_hears_new (const DeskSubject *self);
const CoreState *desk_place_among (GPtrArray *places, CoreId place); /* NULL = it is not there */

/* What the plan must know of others; before anything is computed. `band` may be NULL. */
void desk_subject_set_around (DeskSubject *self, const CoreShelfBand *band, gboolean superseded);
gboolean
desk_subject_is_around (const DeskSubject *self, const CoreShelfBand *band, gboolean superseded);

/* ---- what is around a subject: desk-around.c ---- */

/* Makes another snapshot of a record of which one is in use already. */
typedef void (*DeskAroundRenew) (DeskRecord *record, gpointer data);
/* Tells places and feeder cultures what is around them now. Without `renew` all are new. */
void desk_around (Desk *self, DeskAroundRenew renew, gpointer data);
/* May what is around others be another, now that `before` (or nothing) became `now`? */
gboolean desk_around_changes (const DeskSubject *before, const DeskSubject *now);
/* Like desk_subject_plan_span(), with rows in the place of tasks. */
gboolean desk_subject_plan_rows (DeskSubject *self, CoreDay from, CoreDay to, CorePlan *out);

/* ---- reading: desk-read.c ---- */

int desk_compare_by_number (gconstpointer a, gconstpointer b); /* of DeskSubject * */
gboolean desk_lies_within (Desk *self, CoreId place, CoreId outer); /* also itself */
/* DeskSubject * as of that earlier day: the animals in order, then the lots, that stood on the
 * place then. Behind them, as of now, those that stand there now and did not: n_there are there. */
GPtrArray *desk_stood_on (Desk *self, CoreId place, CoreDay day, guint *n_there);
int desk_compare_by_at (gconstpointer a, gconstpointer b); /* of DeskSubject * */

/* Those that have a plan, on this place or (none) everywhere; new references. desk-plan.c */
/* Cleaning of a shelf that is due by that day, while all that stand on it are left alone. */
gboolean desk_clean_waits (Desk *self, const DeskSubject *place, CoreTaskKind kind, CoreDay day);
GPtrArray *desk_planned_subjects (Desk *self, CoreId place);

/* ---- refreshing: desk-refresh.c ---- */

/* Fold what is stale, make new snapshots, compute them in the pool, then say "changed". */
void desk_refresh (Desk *self, GHashTable *touched);
/* All anew: opening, a new day. `done` is called once all is computed (at once when lazy). */
void desk_refresh_all (Desk *self, GFunc done, gpointer data);
void desk_pool_init (Desk *self);
void desk_search_warm (Desk *self); /* desk-search-rows.c: when there is nothing else to do */
void desk_emit_undo_changed (Desk *self);
void desk_emit_backup_done (Desk *self);
void desk_watch_stop (Desk *self); /* desk-watch.c */
void desk_watch_free (DeskWatch *watch);

/* ---- what cannot be read: desk-damage.c ---- */

void desk_note_damage (Desk *self,
                       const GError *error); /* if it is that of this journal; NULL is fine */
void desk_damage_watch (Desk *self);         /* of the collection that was just adopted */
void desk_written_unread (Desk *self,
                          GError **error); /* *error, of after a write, as what it means */

/* ---- writing: desk-write.c ---- */

/* Fills `op` from what the collection holds now; called again when another program
 * has written meanwhile. */
typedef gboolean (*DeskPrepare) (Desk *self, DeskOp *op, GError **error);

struct _DeskOp
{
  Desk *desk;  /* owned */
  GTask *task; /* owned; returns TRUE */
  DeskPrepare prepare;
  gpointer data; /* owned, of the verb */
  GDestroyNotify data_free;

  /* Filled by prepare, emptied before each call */
  GArray *subjects;   /* StoreSubject */
  GPtrArray *entries; /* owned CoreEntry * */
  GArray *photos;     /* StorePhoto */
  int tries;
  StoreStamp stamp;
  guint turn;

  /* After it: ids of what was written, in order */
  GArray *written; /* CoreId */
  CoreId subject;  /* of add */
};

void desk_op_start (Desk *self,
                    gpointer tag,
                    DeskPrepare prepare,
                    gpointer data,
                    GDestroyNotify data_free,
                    GCancellable *cancellable,
                    GAsyncReadyCallback callback,
                    gpointer user_data);
/* The finished operation; NULL with its error. Borrowed from the result. */
DeskOp *desk_op_finish (Desk *self, GAsyncResult *result, gpointer tag, GError **error);
CoreId desk_op_new_id (DeskOp *op);
CoreEntry *desk_op_entry (DeskOp *op, CoreKind kind, CoreId subject, CoreDay day); /* owned by op */
/* A copy that takes the place of that entry, with an id, a round and a device to come. */
CoreEntry *desk_op_replace (DeskOp *op, const CoreEntry *old);
CoreSubjectKind desk_op_kind_of (DeskOp *op, CoreId subject);
void desk_op_photo (DeskOp *op, const StorePhoto *photo);
CoreId desk_op_new_subject (DeskOp *op, CoreSubjectKind kind);
/* Check the gathered entries against the states that they meet. */
gboolean desk_op_check (DeskOp *op, GError **error);
void desk_ops_settle (Desk *self); /* close when that was asked for and nothing is under way */
/* Load what others wrote, then call `callback`. */
void desk_reload_async (Desk *self, GAsyncReadyCallback callback, gpointer data);
gboolean desk_reload_finish (Desk *self, GAsyncResult *result, GError **error);
void desk_stamp (Desk *self, StoreStamp *out);

/* A `set` of a new subject, checked. */
gboolean desk_op_set (DeskOp *op,
                      CoreId subject,
                      CoreDay day,
                      const char *key,
                      const char *value,
                      GError **error);

/* ---- two of one number or code: desk-alias.c ---- */

/* How many of a smaller id have this number or code now, and the first of them. */
/* Has a place of a smaller id the same name? Which in *first. */
gboolean desk_place_namesake (DeskCollection *all, const CoreState *state, CoreId *first);
guint desk_namesakes_before (DeskCollection *all,
                             CoreId subject,
                             const char *name,
                             gboolean code,
                             CoreId *first);
/* What the subject answers to: the name itself, or with a letter. */
void desk_alias (DeskCollection *all,
                 CoreId subject,
                 const char *name,
                 gboolean code,
                 char *out,
                 gsize size);
/* Was it ever given to another, or does another answer to it with a letter? */
gboolean desk_number_is_given (Desk *self, CoreId subject, const char *number);
/* Names that changed hands, and whom that concerns: the others that have one of them. */
void desk_names_note (GHashTable *names, const DeskSubject *before, const DeskSubject *now);
gboolean desk_names_concern (GHashTable *names, const DeskSubject *subject);

/* ---- codes: desk-code.c ---- */

char *desk_code_key (const char *code);
void desk_code_note (DeskCollection *self, const char *code); /* that it was given */
char *desk_code_next (Desk *self, char letter);               /* "H8" */
const CoreId *desk_code_owner (const DeskCollection *self, const char *code);
gboolean desk_code_is_permanent (CoreSubjectKind kind);

/* ---- readings: desk-climate.c ---- */

/* CoreMoment of the live entries of a place as of now, in order, with what was typed or of loggers
 * alone; owned. */
GArray *desk_climate_now (Desk *self, CoreId place, gboolean inside, gboolean typed);

/* ---- lots: desk-lot.c, desk-inherit.c ---- */

/* Would a lot hold less than nothing? */
gboolean desk_lot_check (DeskOp *op, GError **error);
/* Where number `i` of `n` new ones stands, after that subject; the last position of a shelf. */
double desk_position_after (Desk *self, CoreId subject, guint i, guint n);
double desk_position_last (Desk *self, CoreId place);
/* desk-swap.c: where number `cup` of the subjects stands among those of its place; one without a
 * position stands behind those that have one, in the order given. */
double desk_position_shown (const GPtrArray *subjects, guint cup, CoreId *place);

/* ---- values typed by a person: desk-value.c ---- */

/* "key=value" into an entry; refs by label, species by its beginning. */
gboolean desk_value_set (Desk *self, CoreEntry *entry, const char *pair, GError **error);
gboolean desk_value_complete (const CoreEntry *entry, GError **error);
char **desk_strv_copy (const char *const *strings); /* NULL = none */
/* Split "key=value"; FALSE and an error when there is no '='. */
gboolean desk_value_split (const char *pair, char **key, const char **value, GError **error);
gboolean desk_value_day (Desk *self, const char *key, const char *value, CoreDay *out, GError **error);
/* Or several: "about a week ago". */
gboolean desk_value_days (Desk *self, const char *key, const char *value, DeskWhen *out, GError **error);
/* For `set`: check and bring the value of a known key to its stored form. */
char *desk_value_setting (Desk *self,
                          CoreId subject,
                          CoreSubjectKind kind,
                          const char *key,
                          const char *value,
                          GError **error);
/* The name of a kind that has no profile, as it is kept; NULL = it is none, or a slip in one that has. */
char *desk_kind_own (Desk *self, const char *text);
/* But for slips, in any part of its names; `folded`: casefolded. */
gboolean desk_kind_near (const CoreProfile *profile, const char *folded);
/* A `set` of the journal itself; NULL when never set. */
const char *desk_journal_setting (Desk *self, const char *key);
/* Which of the keeper's names a subject answers to; NOT_FOUND or AMBIGUOUS. */
DeskRecord *desk_find_record (Desk *self, const char *label, gboolean ever, GError **error);
gboolean desk_value_number_ok (const char *number);
/* A sentence of words with up to four texts of the keeper; NULL-ended. */
void desk_fail (GError **error, GQuark domain, int code, WordsDeskProblem problem, ...)
  G_GNUC_NULL_TERMINATED;
void desk_drafts_flush (Desk *self); /* desk-draft.c */
/* desk-parents.c: an entry that sets a mother or father; FALSE where that animal cannot be it. */
gboolean desk_parent_check (DeskOp *op, const CoreEntry *set, GError **error);
/* desk-setting.c: a rule of the plan, else an error that lists them. */
gboolean desk_value_task_ok (const char *name, GError **error);
/* desk-mark.c: the live marks of a photo, by its first id; NULL = none. */
const CoreEntry *desk_mark_of (Desk *self, CoreId subject, CoreId photo);
/* For an entry of kind `marked`; others pass. Its photo is named anew by the id under which it
 * was added first, and it replaces the marks that are there. */
gboolean desk_mark_check (Desk *self, CoreEntry *entry, GError **error);
void
desk_refuse (GError **error, CoreRefusal refusal, const CoreState *state, const CoreEntry *entry);
/* The same for an entry of kind `set`; others pass. */
gboolean desk_value_setting_of (Desk *self, CoreSubjectKind kind, CoreEntry *entry, GError **error);
void desk_photo_redate (Desk *self, CoreEntry *entry); /* its day was corrected */
