/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-move-in.c — columns, words and problems of the table for many animals.
 *
 * Headings and words of cells are understood in English and German whatever the
 * language of the session: tables come from elsewhere. */
#include "words/words-move-in.h"

#include <string.h>

#include "words/words-private.h"

const char *
words_move_in_column (WordsLang lang, MoveInColumn column)
{
  static const WordsTerm table[MOVE_IN_N_CELLS] = {
    [MOVE_IN_PLACE] = TERM ("move in", "Place"),
    [MOVE_IN_AT] = TERM ("move in", "Order"),
    [MOVE_IN_NUMBER] = TERM ("move in", "Number"),
    [MOVE_IN_SPECIES] = TERM ("move in", "Species"),
    [MOVE_IN_STAGE] = TERM ("move in", "Stage"),
    [MOVE_IN_SEX] = TERM ("move in", "Sex, as told"),
    [MOVE_IN_MOULT] = TERM ("move in", "Last moult"),
    [MOVE_IN_FED] = TERM ("move in", "Last fed"),
    [MOVE_IN_NAME] = TERM ("move in", "Name"),
    [MOVE_IN_LOCALITY] = TERM ("move in", "Locality"),
    [MOVE_IN_NOTES] = TERM ("move in", "Notes"),
  };

  return words_term (lang, table, G_N_ELEMENTS (table), (int) column);
}

static const WordsTerm problems[MOVE_IN_N_PROBLEMS] = {
  [MOVE_IN_OK] = TERM ("move in problem", "Nothing is wrong."),
  [MOVE_IN_TOO_LONG] = TERM ("move in problem", "This is too long: at most 200 letters."),
  [MOVE_IN_PLACE_SEVERAL] =
    TERM ("move in problem",
          "“{1}” begins several places: {2}. Type more, or + before it for a new place."),
  [MOVE_IN_PLACE_LONG] =
    TERM ("move in problem", "The name of a place is too long: at most 79 letters."),
  [MOVE_IN_AT_NUMBER] = TERM ("move in problem",
                              "“{1}” is no place in an order. Take a number such as 3 or 3.5, or "
                              "nothing for the order of the rows."),
  [MOVE_IN_NUMBER_FORM] = TERM (
    "move in problem",
    "“{1}” is no number of a cup. Take one such as 14 or 14a: at most 8 digits and 2 letters."),
  [MOVE_IN_NUMBER_GIVEN] =
    TERM ("move in problem",
          "{1} was given before in this journal, and no number is used again. Take another."),
  [MOVE_IN_NUMBER_TWICE] =
    TERM ("move in problem", "{1} stands twice in this table. Each cup has a number of its own."),
  [MOVE_IN_SPECIES_SEVERAL] =
    TERM ("move in problem", "“{1}” begins several species: {2}. Type more of the name."),
  [MOVE_IN_SPECIES_NEAR] =
    TERM ("move in problem", "No species is called “{1}”. Is it {2}? Else type unknown."),
  [MOVE_IN_SPECIES_NONE] =
    TERM ("move in problem",
          "No species is called “{1}”. Known are: {2}. Type unknown for any other."),
  [MOVE_IN_STAGE_FORM] =
    TERM ("move in problem",
          "“{1}” is no stage. Take L4, 4, L4-5, sub or adult, or nothing where it is not known."),
  [MOVE_IN_STAGE_EARLY] =
    TERM ("move in problem",
          "{1} is before the hatchling, which is {2} in the scheme chosen above."),
  [MOVE_IN_STAGE_SCHEME] =
    TERM ("move in problem",
          "“{1}”: a scheme is the L-number of the hatchling, 1 or 2. Leave it out where it is that "
          "of the whole table."),
  [MOVE_IN_SEX_FORM] =
    TERM ("move in problem", "“{1}” is no sex. Take m, f, or nothing where it is not known."),
  [MOVE_IN_DAY_FORM] =
    TERM ("move in problem",
          "“{1}” is no day. Take Sunday, 10 Nov, 3 weeks ago, about 10 days ago, "
          "5 (days ago), or nothing where it is not known."),
  [MOVE_IN_DAY_SEVERAL] =
    TERM ("move in problem",
          "“{1}” may be several days. Type more of the word, or the month by its name: 10 Nov."),
  [MOVE_IN_DAY_FUTURE] =
    TERM ("move in problem", "“{1}” is still to come. Take a day up to today."),
  [MOVE_IN_DAY_OLD] =
    TERM ("move in problem", "“{1}” is over 20 years ago. Take a later day, or nothing."),
  [MOVE_IN_DAY_SERIAL] = TERM (
    "move in problem",
    "“{1}” is how a spreadsheet counts its days, most likely {2}. Let it show the column as dates, "
    "and take it again; or type the day."),
  [MOVE_IN_RANGE_FORM] = TERM (
    "move in problem",
    "“{1}” is no range of numbers. Take one such as 1-20, or 1-20, 25, 31a, or nothing for all."),
  [MOVE_IN_RANGE_NONE] = TERM ("move in problem", "No row has a number in this range."),
  [MOVE_IN_RANGE_GIVEN] =
    TERM ("move in problem",
          "{1} was given before in this journal, and no number is used again. Take another range."),
  [MOVE_IN_TOO_MANY] =
    TERM ("move in problem", "This table holds {1} animals at most. Save these first."),
  [MOVE_IN_PASTE_EMPTY] = TERM ("move in problem", "There is nothing in it."),
  [MOVE_IN_PASTE_LARGE] =
    TERM ("move in problem", "This is too much for one table: at most 1 MiB."),
  [MOVE_IN_PASTE_BINARY] =
    TERM ("move in problem", "This is no table of text. Save it as CSV, in UTF-8, and take that."),
  [MOVE_IN_PASTE_NOT_UTF8] =
    TERM ("move in problem",
          "Its letters are not in UTF-8. Save it as CSV in UTF-8, and take that."),
  [MOVE_IN_PASTE_WIDE] =
    TERM ("move in problem",
          "It has {1} columns and no headings that are known, and this table has {2}. Put headings "
          "above, such as Number, Species, Stage, or leave the others out."),
  [MOVE_IN_PASTE_QUOTE] =
    TERM ("move in problem", "The quotation mark in line {1} is never closed."),
  [MOVE_IN_PASTE_SURPLUS] =
    TERM ("move in problem",
          "“{2}” in line {1} stands under no heading, so nobody knows what it says. Put a heading "
          "above it, or leave it out; a cell that holds the separator is put between quotation "
          "marks."),
  [MOVE_IN_PASTE_HEADINGS] =
    TERM ("move in problem", "There are headings, and no animals below them."),
  [MOVE_IN_PASTE_LONG] = TERM ("move in problem",
                               "What stands under “{2}” in line {1} is too long: at most 79 "
                               "letters, of the notes on one animal 2000."),
  [MOVE_IN_NOTHING] = TERM ("move in problem", "The table is empty. Type at least one row."),
};

char *
words_move_in_problem (WordsLang lang, MoveInProblem problem, const char *a, const char *b)
{
  const char *args[] = { a != NULL ? a : "", b != NULL ? b : "", NULL };

  return words_fill (words_term (lang, problems, MOVE_IN_N_PROBLEMS, (int) problem), args);
}

/* ---- words that are understood ---- */

/* Words of one meaning, separated by '|'; `also` is not translated: German, and signs. */
typedef struct
{
  int code;
  WordsTerm term;
  const char *also;
} Row;

static gboolean
in_list (const char *list, const char *folded)
{
  g_auto (GStrv) words = g_strsplit (list, "|", -1);

  for (guint i = 0; words[i] != NULL; i++)
    {
      g_autofree char *word = g_utf8_casefold (words[i], -1);

      if (strcmp (word, folded) == 0)
        return TRUE;
    }
  return FALSE;
}

static int
find (const Row *rows, gsize n, const char *folded, int otherwise)
{
  for (gsize i = 0; i < n; i++)
    if (in_list (rows[i].term.text, folded) || in_list (rows[i].also, folded) ||
        in_list (T_ (WORDS_LOCAL, rows[i].term.context, rows[i].term.text), folded))
      return rows[i].code;
  return otherwise;
}

MoveInColumn
words_move_in_heading (const char *folded)
{
  static const Row rows[] = {
    { MOVE_IN_PLACE, TERM ("move in heading", "place|shelf|where|location|rack|room"),
      "ort|regal|brett|platz|standort|raum" },
    { MOVE_IN_AT, TERM ("move in heading", "order|position|pos|slot|row"),
      "reihenfolge|stelle|position|reihe" },
    { MOVE_IN_NUMBER, TERM ("move in heading", "number|no|no.|nr|#|cup|id|animal"),
      "nummer|nr.|becher|tier|dose" },
    { MOVE_IN_SPECIES, TERM ("move in heading", "species|kind|name|scientific name"),
      "art|spezies|artname|wissenschaftlicher name" },
    { MOVE_IN_STAGE, TERM ("move in heading", "stage|instar|l|l-stage|age"),
      "stadium|larvenstadium|häutungsstadium|l-stadium" },
    { MOVE_IN_SEX, TERM ("move in heading", "sex|gender|m/f|sex, as told"),
      "geschlecht|m/w|geschl.|sex" },
    { MOVE_IN_MOULT,
      TERM ("move in heading", "last moult|moult|moulted|last molt|molt|molted|shed|last shed"),
      "letzte häutung|häutung|gehäutet|zuletzt gehäutet" },
    { MOVE_IN_SCHEME, TERM ("move in heading", "scheme|hatchling"),
      "schema|schlüpfling|zählweise" },
    { MOVE_IN_NAME, TERM ("move in heading", "pet name|nickname|called"), "rufname|spitzname" },
    { MOVE_IN_LOCALITY, TERM ("move in heading", "locality|found at|collected at"),
      "fundort|lokalität" },
    { MOVE_IN_NOTES, TERM ("move in heading", "notes|note|remarks|remark|comments|comment"),
      "notizen|notiz|bemerkungen|bemerkung|anmerkungen|anmerkung|kommentar" },
    { MOVE_IN_ORIGIN, TERM ("move in heading", "origin|source|breeder|from"),
      "herkunft|quelle|züchter|von" },
    { MOVE_IN_FED, TERM ("move in heading", "last fed|fed|feeding|last meal|last feeding"),
      "gefüttert|fütterung|letzte fütterung|zuletzt gefüttert|futter" },
  };

  return (MoveInColumn) find (rows, G_N_ELEMENTS (rows), folded, MOVE_IN_N_COLUMNS);
}

gboolean
words_move_in_is_name (const char *folded)
{
  static const Row rows[] = { { 1, TERM ("move in name heading", "name"), "name" } };

  return find (rows, G_N_ELEMENTS (rows), folded, 0) == 1;
}

/* Without "?" or "(?)" before or behind it; a lone "?" stays. */
static char *
without_doubt (const char *folded)
{
  static const char *const marks[] = { "(?)", "?" };
  g_autofree char *text = g_strdup (folded);

  for (gsize i = 0; i < G_N_ELEMENTS (marks); i++)
    {
      if (g_str_has_suffix (text, marks[i]))
        text[strlen (text) - strlen (marks[i])] = '\0';
      if (g_str_has_prefix (text, marks[i]))
        memmove (text, text + strlen (marks[i]), strlen (text) - strlen (marks[i]) + 1);
    }
  return g_strdup (g_strstrip (text));
}

int
words_move_in_sex (const char *folded, gboolean *doubt)
{
  static const Row rows[] = {
    { CORE_SEX_MALE, TERM ("move in sex", "m|male|males"), "männchen|männlich|mann|♂|1.0|1,0|1/0" },
    { CORE_SEX_FEMALE, TERM ("move in sex", "f|female|females"),
      "w|weibchen|weiblich|♀|0.1|0,1|0/1" },
    { CORE_SEX_UNKNOWN, TERM ("move in sex", "u|unknown|undecided|unsexed"),
      "unbekannt|unbestimmt|offen|?|-|–|0.0.1" },
  };

  g_autofree char *plain = without_doubt (folded);
  int sex = find (rows, G_N_ELEMENTS (rows), plain, -1);

  *doubt = strcmp (plain, folded) != 0 && (sex == CORE_SEX_MALE || sex == CORE_SEX_FEMALE);
  return *doubt ? sex : find (rows, G_N_ELEMENTS (rows), folded, -1);
}

gboolean
words_move_in_unknown (const char *folded)
{
  static const Row rows[] = {
    { 1, TERM ("move in unknown", "unknown|u|not known"), "unbekannt|?|-|–|??" },
  };

  return find (rows, G_N_ELEMENTS (rows), folded, 0) == 1;
}

CoreSeenStage
words_move_in_stage (const char *folded, gboolean *unknown)
{
  static const Row rows[] = {
    { CORE_SEEN_ADULT, TERM ("move in stage", "adult|ad|a|imago"), "ad.|adulti|erwachsen" },
    { CORE_SEEN_SUBADULT, TERM ("move in stage", "sub-adult|subadult|sub|s"), "sub.|subad|subad." },
    { CORE_SEEN_NYMPH, TERM ("move in stage", "nymph|n|larva"), "nymphe|larve" },
  };

  *unknown = words_move_in_unknown (folded);
  return *unknown ? CORE_SEEN_UNKNOWN
                  : (CoreSeenStage) find (rows, G_N_ELEMENTS (rows), folded, CORE_SEEN_UNKNOWN);
}
