/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli.h — one run of mantidary-cli: its words, its journal, its answer.
 *
 * Exit codes are a contract: 0 done and durable, 1 the request cannot be met,
 * 2 usage, 3 the journal is damaged or too new, 4 busy.
 */
#pragma once

#include <stdio.h>

#include "cli/cli-out.h"
#include "desk/desk.h"
#include "words/words.h"

typedef enum
{
  CLI_OK = 0,
  CLI_CANNOT = 1,
  CLI_USAGE = 2,
  CLI_DAMAGED = 3,
  CLI_BUSY = 4
} CliExit;

typedef struct _Cli Cli;
typedef struct _CliVerb CliVerb;

typedef CliExit (*CliRun) (Cli *cli);

struct _CliVerb
{
  const char *name;    /* one or two words: "photo add" */
  const char *usage;   /* what follows it */
  const char *about;   /* one line */
  /* "day=past place= json": a '=' takes a value, the word behind it says of what form (cli-option.c);
   * NULL = none */
  const char *options;
  int min, max;        /* words beside options; max -1 = any number */
  gboolean needs_journal;
  CliRun run;
  DeskOpenFlags open_flags; /* besides lazy */
};

struct _Cli
{
  const CliVerb *verb;
  const char *group; /* the first word of several verbs, without a second; borrowed */
  GPtrArray *words;    /* borrowed char *, after the verb */
  GHashTable *options; /* name → value ("" for a flag) */
  const char *journal; /* NULL = the keeper's own */
  gboolean json;
  CoreDay today;
  Desk *desk; /* owned, NULL until opened */
  CliOut out;
};

extern const CliVerb cli_verbs[]; /* ended by a NULL name */

/* ---- helpers of the verbs: cli-util.c ---- */

const char *cli_word (Cli *cli, guint i);                               /* NULL = there is none */
const char *const *cli_words_from (Cli *cli, guint i);                  /* NULL-ended, borrowed */
char *cli_default_journal (void);
/* What is for programs is said in English, what is for people in their language. */
WordsLang cli_lang (const Cli *cli);
WordsView cli_view (Cli *cli); /* in that, with the journal's scheme */

/* ---- options: cli-option.c ---- */

/* 0 = no such option of that list, 1 = a flag, 2 = takes a value. */
int cli_option_type (const char *options, const char *name, gsize length);
/* Every number, day and list of marks of the verb's options is one; FALSE: said so. Before anything is
 * opened or looked up. */
gboolean cli_check_options (Cli *cli);
const char *cli_option (Cli *cli, const char *name);                    /* NULL = not given */
gboolean cli_option_day (Cli *cli, const char *name, CoreDay *day);     /* FALSE: said so */
/* The same of a day gone by, also in words: "yesterday", "last friday". */
gboolean cli_option_past (Cli *cli, const char *name, CoreDay *day);
gboolean cli_option_when (Cli *cli, const char *name, DeskWhen *when); /* or several days */
gboolean cli_option_number (Cli *cli, const char *name, double *value); /* FALSE: said so */
gboolean cli_option_clock (Cli *cli, const char *name, int *minute); /* -1: not given; FALSE: said so */
/* "x0,y0,x1,y1[,…]": how many points it has; out[2 * i], out[2 * i + 1] of the first `most` of them.
 * 0 = not given, or no such list. `out` may be NULL. */
int cli_option_points (Cli *cli, const char *name, double *out, int most);

/* ---- how a run ends ---- */

/* Says why on stderr; the exit code that belongs to the error. Takes `error`. */
CliExit cli_fail (GError *error);
CliExit cli_refuse (const char *format, ...) G_GNUC_PRINTF (1, 2); /* CLI_CANNOT */
CliExit cli_usage_error (Cli *cli, const char *format, ...) G_GNUC_PRINTF (2, 3);
/* The subject named by word i; NULL: said so, and *exit is set. */
DeskSubject *cli_subject (Cli *cli, guint i, CliExit *exit);
gboolean cli_entry_id (const char *text, CoreId *out); /* FALSE: said so */
CliExit cli_finish (Cli *cli);                         /* write the answer to stdout */
/* For verbs that do without a journal: opens the one that was named, or the keeper's own where
 * there is one. */
CliExit cli_open_if_there (Cli *cli);

void cli_print_usage (const CliVerb *verb, FILE *to); /* NULL = everything */
void cli_print_group (const char *group, FILE *to);
char *cli_verbs_of (const char *group); /* "export sheets, export stickers"; NULL = none */

/* ---- pieces of answers: cli-json.c ---- */

void cli_put_reasons (Cli *cli, const CoreReason *reasons, gsize n, gboolean shifts);
void cli_put_evidence (Cli *cli, const CoreSexVerdict *verdict, CoreId photo, gboolean places);
void cli_put_verdict (Cli *cli, const CoreSexVerdict *verdict);
/* Whether the camera's day was believed, and why not (cli-photo.c). */
void cli_put_wrong_day (Cli *cli, const DeskPhoto *photo);
void cli_put_asks (Cli *cli, unsigned ask);
void cli_put_left_out (Cli *cli, GPtrArray *left_out); /* DeskLeft */
const char *cli_conflict_kind (CoreConflictKind kind);

CliExit cli_forecast_lot (Cli *cli, DeskSubject *lot);
/* null for every key of the forecast of one animal: whoever reads all of them finds each. */
void cli_put_none_of_one (Cli *cli);
void cli_put_standstill (Cli *cli, const CoreStandstill *still);
/* first, median and last. */
void cli_put_lot_when (Cli *cli, const CoreLotForecast *forecast);
char *cli_entry_text (Cli *cli, DeskSubject *subject, const CoreEntry *entry); /* English */
const char *cli_subject_kind (const DeskSubject *subject); /* the contract's word */
/* cli-lot.c: what `state` says of its kind of subject alone. */
void cli_put_of_kind (Cli *cli, DeskSubject *subject);

/* The number of marks of {"file":…,"axis":[[x,y],…]} and its file, owned by the caller; less
 * than 2 when the line is not of that form. */
int cli_read_axes_line (const char *line, char **file, double *axis, int max);

/* ---- the verbs ---- */

CliExit cli_new (Cli *cli);
CliExit cli_add (Cli *cli);
CliExit cli_record (Cli *cli);
CliExit cli_round (Cli *cli);
CliExit cli_undo (Cli *cli);
CliExit cli_redo (Cli *cli);
CliExit cli_history (Cli *cli);
CliExit cli_import_csv (Cli *cli);
CliExit cli_import_readings (Cli *cli);
CliExit cli_export_readings (Cli *cli);
CliExit cli_climate (Cli *cli);
CliExit cli_void (Cli *cli);
CliExit cli_correct (Cli *cli);
CliExit cli_state (Cli *cli);
CliExit cli_forecast (Cli *cli);
CliExit cli_what_if (Cli *cli);
CliExit cli_growth (Cli *cli);
CliExit cli_plan (Cli *cli);
CliExit cli_photo_add (Cli *cli);
CliExit cli_photo_batch (Cli *cli);
CliExit cli_photo_list (Cli *cli);
CliExit cli_photo_count (Cli *cli);
CliExit cli_photo_measure (Cli *cli);
CliExit cli_photo_sex (Cli *cli);
CliExit cli_sex (Cli *cli);
CliExit cli_backup (Cli *cli);
CliExit cli_restore (Cli *cli);
CliExit cli_backups (Cli *cli);
CliExit cli_check (Cli *cli);
CliExit cli_search (Cli *cli);
CliExit cli_merge (Cli *cli);
CliExit cli_export_sheets (Cli *cli);
CliExit cli_export_stickers (Cli *cli);
CliExit cli_export_standin (Cli *cli);
CliExit cli_export_emergency (Cli *cli);
CliExit cli_export_proofsheet (Cli *cli);
CliExit cli_separate (Cli *cli);
CliExit cli_split (Cli *cli);
CliExit cli_move (Cli *cli);
CliExit cli_join (Cli *cli);
CliExit cli_swap (Cli *cli);
CliExit cli_recount (Cli *cli);
CliExit cli_clock (Cli *cli);
CliExit cli_air (Cli *cli);
CliExit cli_profile_list (Cli *cli);
CliExit cli_profile_show (Cli *cli);
CliExit cli_profile_check (Cli *cli);
CliExit cli_profile_set (Cli *cli);
CliExit cli_profile_reset (Cli *cli);
CliExit cli_import_profiles (Cli *cli);
CliExit cli_export_profiles (Cli *cli);
