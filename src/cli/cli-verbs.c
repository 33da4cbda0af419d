/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-verbs.c — the table of verbs, and usage made from it and from the table of kinds. */
#include "cli/cli.h"

#include "core/core-entry.h"

const CliVerb cli_verbs[] = {
  { "new", "DIR [--demo | --animals N --days D [--seed S]]",
    "make a journal in DIR; with --demo the invented collection, with N and D a synthetic one",
    "demo animals=number days=number seed=number", 1, 1, FALSE, cli_new },
  { "add", "animal|lot|place|eggcase|culture key=value …",
    "a new subject; prints its number or code", NULL, 1, -1, TRUE, cli_add },
  { "record", "SUBJECT KIND [key=value …] [--day D] [--earliest D] [--time HH:MM] [--sure]",
    "append one entry; prints its id; --sure also where the value is most likely a slip", "day=when earliest=past time=clock sure", 2, -1, TRUE, cli_record },
  { "round", "PLACE \"all fed 2 house flies, except 14 31 refused\" [--day D] [--seen-by NAME]",
    "a round with exceptions; prints what it wrote", "day=when seen-by=", 2, 2, TRUE, cli_round },
  { "separate", "LOT N [--moulted K] [--place P] [--day D]",
    "singles out of a lot, each with a new number; K of them had moulted before the others",
    "moulted=number place= day=past", 2, 2, TRUE, cli_separate },
  { "split", "LOT N [--moulted K] [--code C] [--day D]", "a part of a lot becomes a lot of its own",
    "moulted=number code= day=past", 2, 2, TRUE, cli_split },
  { "join", "LOT LOT [--day D]", "the second lot goes into the first", "day=past", 2, 2, TRUE,
    cli_join },
  { "recount", "LOT N [--about] [--day D]",
    "how many there are now; what is missing was lost unseen", "about day=past", 2, 2, TRUE,
    cli_recount },
  { "move", "SUBJECT PLACE [--before CUP]",
    "to another shelf or another order on it, today; without --before at the end", "before=", 2, 2,
    TRUE, cli_move },
  { "swap", "A B [--since D [--shows PHOTO=NUMBER,…] [--sure]]",
    "the two exchange their places; with --since they were mixed up: what was seen since then "
    "changes its owner; --sure also where they are of two kinds", "since=past shows= sure", 2, 2, TRUE, cli_swap },
  { "undo", "", "take back the last round of this device", NULL, 0, 0, TRUE, cli_undo },
  { "redo", "", "put back what was undone last", NULL, 0, 0, TRUE, cli_redo },
  { "history", "SUBJECT", "its entries, newest first", NULL, 1, 1, TRUE, cli_history },
  { "void", "ENTRY", "take one entry back", NULL, 1, 1, TRUE, cli_void },
  { "correct", "ENTRY key=value … (also day=, earliest=, time=)",
    "replace an entry by a corrected copy; prints its id", NULL, 2, -1, TRUE, cli_correct },
  { "import csv", "FILE|- [--place P] [--scheme 1|2]",
    "move in the animals of a table, all or none; - reads standard input; prints how many; a column "
    "scheme is that of the stage in its row", "place= scheme=", 1, 1, TRUE,
    cli_import_csv },
  { "import readings",
    "FILE|- --place P [--inside] [--look] [--leave-out] [--time COL] [--clock COL] [--temperature COL] "
    "[--humidity COL] [--unit C|F] [--dates ymd|dmy|mdy] [--decimal .|,] [--zone Z]",
    "readings of a logger, all or none; --look only says what; a column by its heading or number, - for none",
    "place= inside look leave-out time= clock= temperature= humidity= unit= dates= decimal= zone=", 1, 1,
    TRUE, cli_import_readings },
  { "climate", "PLACE [--inside] [--from D] [--to D]",
    "its readings by day, hours out of what lives there wants, and the night's air", "inside from=day to=day", 1, 1,
    TRUE, cli_climate },
  { "state", "SUBJECT", "what is known of it", NULL, 1, 1, TRUE, cli_state },
  { "forecast", "SUBJECT", "its next moult and adult moult", NULL, 1, 1, TRUE, cli_forecast },
  { "what-if", "SUBJECT [--on PLACE] [--day-c T --night-c T] [--feed DAYS]",
    "its next moult and meals elsewhere, at other temperatures or fed otherwise; writes nothing",
    "on= day-c=number night-c=number feed=interval", 1, 1, TRUE, cli_what_if },
  { "growth", "SUBJECT --what head|body|pronotum [--moults M]", "expected length in mm",
    "what= moults=number", 1, 1, TRUE, cli_growth },
  { "plan", "[--from D] [--to D] [--place P]", "what is due, what is held back, and why",
    "from=day to=day place=", 0, 0, TRUE, cli_plan },
  { "photo add", "SUBJECT FILE [--day D]", "add a picture", "day=past", 2, 2, TRUE, cli_photo_add },
  { "photo batch", "SUBJECT=FILE … [--dates camera|file]",
    "add many pictures as one round; one that is refused keeps out none of the others", "dates=", 1, -1,
    TRUE, cli_photo_batch },
  { "photo list", "[SUBJECT]", "the pictures by animal and stage, with what is known of each", NULL, 0,
    1, TRUE, cli_photo_list },
  { "photo count",
    "FILE --axis x0,y0,x1,y1[,…] [--given K] [--species S] [--moults M] | --axes FILE",
    "find the plates of an abdomen", "axis=points given=number axes= species= moults=number", 0, 1, FALSE,
    cli_photo_count },
  { "photo measure",
    "--line x0,y0,x1,y1[,…] (--ruler x0,y0,x1,y1 | --disc x0,y0,…) --mm L [--what "
    "body|head|pronotum|abdomen|tegmen] | --outline x,y,x,y,… --axis x0,y0,x1,y1; both: [--mark-sd "
    "PX] [--record SUBJECT] [--day D]",
    "a length in mm from marks on a picture, or a belly score from an outline seen from the side",
    "line=points ruler=ends disc=points mm=number what= outline=pairs axis=ends mark-sd=number record= day=past", 0, 0, FALSE,
    cli_photo_measure },
  { "photo sex", "PHOTO", "the evidence of a recorded photo", NULL, 1, 1, TRUE, cli_photo_sex },
  { "sex",
    "species= moults= adult=yes|no plates= plates_likelihood=6:.7,8:.02 "
    "small_plate=counted|not|unknown convention=plates|appendages last_plate=boat|small|unclear "
    "wing_ratio= wing_sd= tegmen_pronotum= tegmen_pronotum_sd= cue=NAME:male|female "
    "build=male|female descent=male|female claim=male|female",
    "combine evidence about the sex, without a journal", NULL, 1, -1, FALSE, cli_sex },
  { "backup", "FILE [--without-positions] [--without-damaged] [--replace]",
    "everything in one file, read back before it gets its name",
    "without-positions without-damaged replace", 1, 1, TRUE, cli_backup },
  { "restore", "FILE DIR [--without-damaged] | --salvage JOURNAL DIR",
    "a journal from a backup, or from what is left of a damaged one, in the new folder DIR",
    "without-damaged salvage", 2, 2, FALSE, cli_restore },
  { "backups", "[--now] [--folder DIR] [--on yes|no]",
    "the daily backups; makes that of today; sets where and whether (--folder= is the usual one)",
    "now folder= on=", 0, 0, FALSE, cli_backups },
  { "search", "TEXT",
    "by number, name, kind, place, stage, prey, words of notes, or what was entered; each word may be a beginning", NULL, 1, -1,
    TRUE, cli_search },
  { "merge", "DIR [--look | --another]",
    "a copy of this journal that was edited apart comes in, all or nothing; --look only says what, "
    "--another takes in a journal that is no copy",
    "look another", 1, 1, TRUE, cli_merge },
  { "export sheets", "FILE [--place P] [--paper a4|letter] [--replace]",
    "round sheets to print, as PDF: one line per cup in the order in which they stand",
    "place= paper= replace", 1, 1, TRUE, cli_export_sheets },
  { "export stickers", "FILE [--place P] [--paper a4|letter] [--replace]",
    "the permanent numbers, large, to cut apart; as PDF", "place= paper= replace", 1, 1, TRUE,
    cli_export_stickers },
  { "export standin", "FILE --from D --to D [--call TEXT] [--place P] [--paper a4|letter] [--replace]",
    "for somebody who looks after the animals: what to do, cup by cup and day by day; as PDF",
    "from=day to=day call= place= paper= replace", 1, 1, TRUE, cli_export_standin },
  { "export emergency", "FILE [--paper a4|letter] [--replace]", "the emergency words on one page, as PDF",
    "paper= replace", 1, 1, FALSE, cli_export_emergency },
  { "export proofsheet", "PHOTO FILE [--ruler x0,y0,x1,y1 --mm L] [--replace]",
    "a recorded photo with its plates, verdict and doubt for others to check; as PNG, in true scale by what was "
    "measured in the picture, by the abdomen as measured in that stage, or by two marks on a known length",
    "ruler=ends mm=number replace", 2, 2, TRUE, cli_export_proofsheet },
  { "export readings", "FILE --place P [--inside] [--replace]", "the readings of a place as a table (CSV)",
    "place= inside replace", 1, 1, TRUE, cli_export_readings },
  { "profile list", "", "the kinds: shipped, with the journal's own values", NULL, 0, 0, FALSE,
    cli_profile_list },
  { "profile show", "SPECIES", "all values of a kind, each with its unit and where it comes from",
    NULL, 1, 1, FALSE, cli_profile_show },
  { "profile check", "FILE", "would it be taken in, and what would it change", NULL, 1, 1, FALSE,
    cli_profile_check },
  { "profile set", "SPECIES GROUP.KEY=VALUE …", "own values of a kind, such as care.mist=2;3", NULL,
    2, -1, TRUE, cli_profile_set },
  { "profile reset", "SPECIES [GROUP.KEY …]",
    "back to the shipped values, all or those named; a kind that was taken in goes", NULL, 1, -1,
    TRUE, cli_profile_reset },
  { "import profiles", "FILE [--look]",
    "take in a profile: what it says replaces what is used; --look only says what", "look", 1, 1,
    TRUE, cli_import_profiles },
  { "export profiles", "SPECIES FILE [--replace]", "a profile as it is used, as a file", "replace",
    2, 2, TRUE, cli_export_profiles },
  { "check", "", "read everything and say whether it is sound", NULL, 0, 0, TRUE, cli_check,
    DESK_OPEN_UNCHECKED },
  { "clock", "--species S --min T --max T [--days N]",
    "development days of N days between two temperatures", "species= min=number max=number days=number", 0, 0, FALSE,
    cli_clock },
  { "air", "--t T --rh H [--night T] [--wall T]", "water in the air", "t=number rh=number night=number wall=number", 0, 0,
    FALSE, cli_air },
  { NULL, NULL, NULL, NULL, 0, 0, FALSE, NULL },
};

static const char *
type_hint (const CoreKindKey *key)
{
  switch (key->type)
    {
    case CORE_VALUE_INT:
    case CORE_VALUE_REAL:
      return "NUMBER";
    case CORE_VALUE_REF:
      return key->key == CORE_KEY_PHOTO ? "PHOTO" : "SUBJECT";
    case CORE_VALUE_DAY:
      return "DAY";
    case CORE_VALUE_LIST:
      return "N,N,…";
    case CORE_VALUE_DIST:
      return "N:W,…";
    case CORE_VALUE_CODE:
    case CORE_VALUE_TEXT:
    default:
      return "TEXT";
    }
}

static void
print_kind (const CoreKindInfo *info, FILE *to)
{
  fprintf (to, "  %s", info->name);
  for (const CoreKindKey *key = info->keys; key->key != CORE_KEY_NONE; key++)
    {
      fprintf (to, key->required ? " %s=" : " [%s=", key->name);
      if (key->type != CORE_VALUE_CODE)
        fputs (type_hint (key), to);
      for (int i = 0; key->type == CORE_VALUE_CODE && key->words[i] != NULL; i++)
        fprintf (to, "%s%s", i == 0 ? "" : "|", key->words[i]);
      if (!key->required)
        fputc (']', to);
    }
  fputc ('\n', to);
}

static void
print_kinds (FILE *to)
{
  fputs ("\nKinds of record:\n", to);
  for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
    {
      const CoreKindInfo *info = core_kind_info ((CoreKind) kind);

      if (info->typed && !info->reserved)
        print_kind (info, to);
    }
}

/* "export" of "export sheets"? */
static gboolean
is_of_group (const CliVerb *verb, const char *group)
{
  gsize length = strlen (group);

  return strncmp (verb->name, group, length) == 0 && verb->name[length] == ' ';
}

char *
cli_verbs_of (const char *group)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (const CliVerb *verb = cli_verbs; verb->name != NULL; verb++)
    if (is_of_group (verb, group))
      g_ptr_array_add (names, (gpointer) verb->name);
  if (names->len == 0)
    return NULL;
  g_ptr_array_add (names, NULL);
  return g_strjoinv (", ", (char **) names->pdata);
}

void
cli_print_group (const char *group, FILE *to)
{
  for (const CliVerb *verb = cli_verbs; verb->name != NULL; verb++)
    if (is_of_group (verb, group))
      fprintf (to, "  %s %s\n      %s\n", verb->name, verb->usage, verb->about);
}

void
cli_print_usage (const CliVerb *verb, FILE *to)
{
  if (verb != NULL)
    {
      fprintf (to, "Usage: mantidary-cli %s %s\n", verb->name, verb->usage);
      if (verb->run == cli_record)
        print_kinds (to);
      return;
    }
  fputs ("Usage: mantidary-cli [--journal DIR] [--today YYYY-MM-DD] [--json] VERB …\n\n", to);
  for (verb = cli_verbs; verb->name != NULL; verb++)
    fprintf (to, "  %s %s\n      %s\n", verb->name, verb->usage, verb->about);
  print_kinds (to);
  fputs ("\nExit codes: 0 done, 1 cannot be met, 2 usage, 3 damaged or too new, 4 busy.\n", to);
}
