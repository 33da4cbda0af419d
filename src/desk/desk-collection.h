/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-collection.h — what a journal holds: the books over its entries, the states of its
 * subjects, and how they are read, packed, built and kept.
 *
 * A collection belongs to one thread at a time; a DeskFold is immutable once made and counted
 * atomically. */
#pragma once

#include "desk/desk.h"
#include "store/store.h"

/* ---- shared, immutable ---- */

typedef struct _DeskSlab DeskSlab; /* bytes read from a snapshot, counted; desk-sealed.h */

typedef struct
{
  gatomicrefcount refs;
  gboolean in_place; /* it and its arrays lie in the bytes of a snapshot, but for conflicts */
  DeskSlab *slab;    /* which these are, held; or NULL */
  CoreState state;
  guint own_conflicts;           /* of state.conflicts: the first, which its own entries show */
} DeskFold;

DeskFold *desk_fold_new (void);
DeskFold *desk_fold_ref (DeskFold *self);
void desk_fold_unref (DeskFold *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskFold, desk_fold_unref)

/* ---- one subject and where its entries are ---- */

/* Ascending numbers in the few bytes that their distances need. */
typedef struct
{
  guint8 *bytes; /* owned */
  guint32 len, cap;
  guint32 n;
  gint64 last;
} DeskSeqs;

/* Entries of one subject, packed; desk-pack.c. */
typedef struct
{
  guint8 *bytes; /* owned, but when `cap` is 0 */
  gsize len, cap;
  guint n;
  CoreDay day;    /* of the last one */
  gint64 written; /* the same */
} DeskPack;

typedef struct _DeskKept DeskKept; /* what was computed of a subject; desk-private.h */

typedef struct
{
  CoreId id;
  CoreSubjectKind kind;
  DeskSeqs seqs;          /* of its entries, in order of arrival, live or not */
  GPtrArray *loaded;      /* owned CoreEntry *, the same in memory; NULL = not there now */
  guint64 asked;          /* when `loaded` was asked for last, by DeskCollection.asked */
  DeskPack *pack;         /* owned: the same, packed; of the living of a large journal, else NULL */
  DeskFold *made;         /* owned: folded already for the next snapshot, or NULL */
  DeskKept *kept;         /* owned: from an earlier run for the next snapshot, or NULL */
  DeskSubject *now;       /* owned, never NULL once the collection is settled */
  gboolean stale;         /* entries changed since `now` */
  guint search_row;       /* its place among DeskSearchRow, when somebody has searched */
  CoreId lot;             /* the lot among whose heirs it is, none = not so */
  CoreDay lot_since;      /* what is of a later day of that lot does not concern it */
  GPtrArray *heirs;       /* DeskRecord *, borrowed: who ever was taken out of this lot; NULL = nobody */
} DeskRecord;

/* ---- entries that name entries: desk-naming.c ---- */

/* An entry that names another or is named: all that its liveness depends on. Every other
 * entry of the journal is live. */
typedef struct
{
  CoreEntry entry; /* id, subject, kind, day, names and bulk alone; no values */
  gint64 seq;
  guint8 live;
} DeskNode;

typedef struct
{
  GHashTable *nodes;  /* CoreId → DeskNode, owned */
  GHashTable *namers; /* CoreId that is named → GPtrArray of DeskNode, borrowed */
  GArray *conflicts;  /* CoreConflict of the journal as a whole */
} DeskNaming;

typedef struct _DeskWill DeskWill; /* desk-inherit.c */

/* ---- rounds: desk-rounds.c ---- */

/* Entries that follow each other in one round of one device. */
typedef struct
{
  gint64 first_seq;
  guint32 n, dead; /* entries, and those of them that are not live */
  guint32 device;  /* index into DeskRounds.devices */
  gboolean bulk_void; /* its last entry takes back, written by undo or redo */
  CoreId names;       /* what that one takes back */
} DeskRound;

typedef struct
{
  GArray *rounds;  /* DeskRound, by seq */
  GArray *devices; /* CoreId */
  GHashTable *index; /* CoreId → its place in `devices` + 1 */
  CoreId last;     /* the id of the last round */
} DeskRounds;

/* What packs share. */
typedef struct
{
  GArray *rounds;     /* CoreId */
  DeskRounds devices; /* for its devices alone */
} DeskPackShared;

/* What the journal holds: states and what they are made of in memory, entries where they lie
 * until somebody asks. */
typedef struct
{
  Store *source;       /* borrowed: read from by whoever has the collection; NULL = closed */
  GHashTable *records; /* CoreId of a subject → DeskRecord, owned */
  GPtrArray *order;    /* DeskRecord *, by id */
  GPtrArray *journals; /* DeskRecord *: what is said of the journal itself; more only when merged */
  GHashTable *loaded;  /* CoreId of an entry in memory → it, borrowed from its record */
  GHashTable *hours;   /* CoreId * of an entry of a logger → what a fold takes of it, owned */
  GHashTable *singles; /* the same of entries read alone, owned */
  DeskWill *will;      /* owned: what those taken out of a lot have from it, made last; NULL = none */
  guint64 asked;
  DeskPackShared packed; /* of the packs; without rounds there are none */
  DeskSlab *slab;        /* held: some packs lie in it */
  DeskNaming naming;
  GPtrArray *pending;  /* DeskNode, borrowed: noted and not yet settled */
  DeskRounds rounds;
  GHashTable *numbers; /* number, or desk_code_key of a code → CoreId: ever given, also of dead
                        * and undone */
  guint64 top_number;  /* the largest number ever given */
  guint64 top_codes[26]; /* the largest running number of the codes of each letter */
  CoreId last_id;      /* the largest id seen */
  StoreTotals totals;  /* of all entries up to last_seq */
  gint64 last_seq;
  StoreTotals kept;    /* of the snapshot that is there; count 0 = none */
  CoreDay kept_today;  /* the day of its outlooks, or CORE_DAY_NONE */
  gboolean days_to_come; /* some state leaves out what is of a later day: no snapshot of it */
  gboolean unreadable; /* some entries could not be read again */
  GError *failed;      /* owned: why, last; that the journal is damaged is never forgotten */
  void (*damaged) (gpointer data); /* called once, when that is found; NULL = nobody */
  gpointer damaged_data;
} DeskCollection;

/* ---- ids: desk-id.c ---- */

guint desk_id_hash (gconstpointer id);
gboolean desk_id_equal (gconstpointer a, gconstpointer b);
GHashTable *desk_id_set_new (void); /* of CoreId, owned */
void desk_id_set_add (GHashTable *set, CoreId id);
CoreId *desk_id_dup (CoreId id);

void desk_seqs_add (DeskSeqs *self, gint64 seq); /* larger than all before */
void desk_seqs_read (const DeskSeqs *self, gint64 *out); /* n numbers */
void desk_seqs_clear (DeskSeqs *self);

void desk_naming_init (DeskNaming *self);
void desk_naming_clear (DeskNaming *self);
DeskNode *desk_naming_node (DeskNaming *self, CoreId id); /* NULL = neither names nor is named */
DeskNode *desk_naming_add (DeskNaming *self, const CoreEntry *entry, gint64 seq);
gboolean desk_naming_is_named (DeskNaming *self, CoreId id);
/* Decides anew who is live among all that hang together with these nodes by naming; calls
 * `changed` for each entry whose liveness is another one now. */
void desk_naming_resolve (DeskNaming *self,
                         const GPtrArray *nodes,
                         void (*changed) (const DeskNode *node, gpointer data),
                         gpointer data);

void desk_rounds_init (DeskRounds *self);
void desk_rounds_clear (DeskRounds *self);
guint32 desk_rounds_device (DeskRounds *self, CoreId id);
void desk_rounds_add (DeskRounds *self, const CoreEntry *entry, gint64 seq);
/* Which round holds this seq; -1 = it lies before all. */
int desk_rounds_find (const DeskRounds *self, gint64 seq);
void desk_rounds_lives (DeskRounds *self, gint64 seq, gboolean live);

/* ---- collection: desk-collection.c ---- */

void desk_collection_init (DeskCollection *self);
void desk_collection_clear (DeskCollection *self);
DeskRecord *desk_collection_record (DeskCollection *self, CoreId subject);
DeskRecord *desk_collection_add_subject (DeskCollection *self, CoreId id, CoreSubjectKind kind);
/* Before entries are written: reads what they name and those whose folds they change, so that
 * nothing of the journal has to be read once they are. FALSE: it cannot be. */
gboolean
desk_collection_foresee (DeskCollection *self, const GPtrArray *entries, GError **error);
/* Takes entries that follow each other from first_seq on (those known by their seq are freed);
 * marks their subjects stale and, when not NULL, puts these ids into `touched`. */
gboolean desk_collection_take (DeskCollection *self,
                               GPtrArray *entries,
                               const gint64 *seqs,
                               GHashTable *touched,
                               GError **error);
/* One entry into the books; `desk_collection_settle` decides who is live. */
DeskRecord *
desk_collection_note (DeskCollection *self, const CoreEntry *entry, gint64 seq, GError **error);
gboolean desk_collection_settle (DeskCollection *self, GHashTable *touched, GError **error);
/* Which entries of a subject a fold takes. */
typedef struct
{
  CoreId without;        /* all live ones but this; none = all */
  const GPtrArray *more; /* CoreEntry *: those of the subject besides; may be NULL */
  CoreDay until;         /* those of later days left out, but for what it is called; NONE = all */
} DeskFoldHow;
extern const DeskFoldHow desk_fold_now; /* all live ones */

/* NULL: its entries cannot be read. */
DeskFold *desk_collection_fold (DeskCollection *self,
                                CoreId subject,
                                CoreSubjectKind kind,
                                const DeskFoldHow *how,
                                GError **error);
/* As of now, from these entries of the record, all of them. */
DeskFold *
desk_collection_fold_all (DeskCollection *self, const DeskRecord *record, const GPtrArray *entries);
/* ---- what one has from the lot that it came from: desk-inherit.c ---- */

/* `live`: the live entries of that subject, which hold those of `all` that `how` takes. What it has
 * from its lot is added, owned by `owned`, and what older journals hold as copies of that is left
 * out. FALSE: the entries of the lot cannot be read. */
gboolean desk_inherit (DeskCollection *self,
                       DeskRecord *record,
                       const GPtrArray *all,
                       const DeskFoldHow *how,
                       GPtrArray *live,
                       GPtrArray *owned);
/* A fold of that record was made: from now on changes of its lot concern it. */
void desk_inherit_note (DeskCollection *self, DeskRecord *record, const CoreState *state);
/* Calls for everybody who may have something from that entry of a lot. */
void desk_inherit_concern (DeskCollection *self,
                           const CoreEntry *entry,
                           void (*func) (DeskRecord *heir, gpointer data),
                           gpointer data);
void desk_inherit_forget (DeskCollection *self); /* something has changed */
/* The entries of a subject for whoever reads them: its own without the copies, and those of its lot
 * that it has from there; borrowed. NULL: unreadable. */
GPtrArray *desk_inherit_history (DeskCollection *self, DeskRecord *record, GError **error);

/* Those that only the whole journal shows join those of the state, in the place of such as were
 * there. */
void desk_collection_add_conflicts (DeskCollection *self, DeskFold *fold);

/* Entries that stay in memory: some 70 MB, all of an ordinary collection. Tests set it. */
extern guint desk_entries_most;

/* ---- what cannot be read: desk-damage.c ---- */

void desk_collection_note_failure (DeskCollection *self, const GError *failure);
/* FALSE and why, where something that was asked for could not be read. */
gboolean desk_collection_readable (const DeskCollection *self, GError **error);
/* What may go better the next time (a busy disk, no memory) is forgotten. */
void desk_collection_forgive (DeskCollection *self);

/* ---- entries where they are asked for: desk-entries.c ---- */

/* Of one subject, in order of arrival; borrowed until desk_entries_shed(). NULL: unreadable. */
const GPtrArray *
desk_collection_entries (DeskCollection *self, DeskRecord *record, GError **error);
CoreEntry *desk_collection_entry (DeskCollection *self, CoreId id); /* NULL = none */
gboolean desk_collection_is_live (DeskCollection *self, CoreId id);
/* Of one round, live or not; owned copies. NULL: unreadable. */
GPtrArray *desk_collection_round (DeskCollection *self, guint round, GError **error);
/* The same, of the round in which this entry was written. */
GPtrArray *desk_collection_round_with (DeskCollection *self, CoreId entry, GError **error);
/* Lets go of what has not been asked for lately, beyond a bound. */
void desk_entries_shed (DeskCollection *self);
void desk_entries_forget (DeskCollection *self, DeskRecord *record);
void desk_entries_keep (DeskCollection *self, DeskRecord *record, CoreEntry *entry);

/* ---- packed entries: desk-pack.c ---- */

void desk_pack_shared_init (DeskPackShared *self);
void desk_pack_shared_clear (DeskPackShared *self);
void desk_pack_add (DeskPack *self, DeskPackShared *shared, const CoreEntry *entry);
GPtrArray *
desk_pack_entries (const DeskPack *self, const DeskPackShared *shared, CoreId subject);
void desk_pack_fit (DeskPack *self); /* gives back what it has grown beyond its length */
void desk_pack_free (DeskPack *self);

/* ---- from the journal to the collection: desk-build.c ---- */

typedef struct
{
  DeskCollection all;
  GArray *photos; /* StorePhoto */
  GArray *merged; /* StoreMerged */
} DeskBuilt;
/* What a snapshot must be of to be used; of a NULL everything is built from the entries. */
typedef struct
{
  char *profiles; /* owned: desk_profiles_key() */
  CoreDay today;
  gint64 check_most; /* bytes of a database whose pages are looked through first */
} DeskBuildAsk;
void desk_build_ask_free (gpointer ask);
/* A StoreJob; takes a DeskBuildAsk or NULL, gives a DeskBuilt. */
gpointer desk_build_job (Store *store, gpointer data, GError **error);
void desk_built_free (DeskBuilt *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskBuilt, desk_built_free)

/* ---- the collection kept: desk-snapshot.c ---- */

/* Journals with fewer entries keep no snapshot. Tests set it. */
extern guint desk_snapshot_from;
typedef struct _DeskSnapshot DeskSnapshot;
/* Any thread. NULL: there is none of this program and these profiles. */
DeskSnapshot *desk_snapshot_find (const char *dir, const char *profiles);
const StoreTotals *desk_snapshot_totals (const DeskSnapshot *self);
/* Fills an empty collection, but for the conflicts that only the whole journal shows; FALSE: it
 * is of no use, and neither is the collection. */
gboolean desk_snapshot_read (DeskSnapshot *self, CoreDay today, DeskCollection *all);
void desk_snapshot_free (DeskSnapshot *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DeskSnapshot, desk_snapshot_free)
