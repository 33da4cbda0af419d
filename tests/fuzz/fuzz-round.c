/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz-round.c — whatever is typed into the round line: it ends, what is marked lies in the line,
 * what is written fits the shelf, and what is understood can be typed again in full words and
 * means the same. English and the language of the session, shelves of 0 to 320 cups. */
#include "fuzz-driver.h"

#include <glib.h>
#include <locale.h>
#include <string.h>

#include "core/core-entry.h"
#include "words/words.h"

#define MAX_CUPS 320
#define N_SPECIES 3

static CoreRoundCup cups[MAX_CUPS];
static GArray *terms; /* CoreRoundTerm: the vocabulary, then kinds and lots */
static guint n_words;

static const char *const scraps[] = {
  " ", ",", ";", ":", "-", "–", ".", "all ", "due ", "except ", "fed ", "misted ", "gone ",
  "looked ", "14 ", "7 ", "31 ", "22-25 ", "14a ", "0 ", "5 ", "1001 ", "99999999999 ", "2 house flies ",
  "hydei ", "fruit flies ", "moths: ", "L4 up ", "L6+ ", "adults ", "ghosts ", "h7 ", "about ",
  "120 remain ", "3 dead ", "refused ", "took ", "moulted fell ", "moulted adult ", "dead ", "left ",
  "sold ", "escaped ", "skip ", "belly ", "drank ", "hanging ", "yesterday ", "on Sunday ", "mon ",
  "swap 14 31 ", "gefüttert ", "außer ", "gestern ", "am Sonntag ", "verweigert ", "\xc3", "\xff",
  "\x01", "\xc2\xa0", "h", "l", "d", "m", "+", "L", "mantis ", "at ", "and ", "; ", ", ", NULL
};

/* ---- a shelf ---- */

static void
make_cup (CoreRoundCup *cup, size_t i, FuzzRand *rand)
{
  uint64_t bits = fuzz_next (rand);

  memset (cup, 0, sizeof *cup);
  if (i % 40 == 39)
    {
      cup->lot = true;
      g_snprintf (cup->number, sizeof cup->number, "h%zu", i / 40 + 7);
    }
  else
    g_snprintf (cup->number, sizeof cup->number, "%zu%s", i + 1, i % 16 == 13 ? "a" : "");
  cup->living_single = !cup->lot && bits % 16 != 0;
  cup->held = (bits & 0x100) != 0 && (bits & 0x200) != 0;
  cup->due_food = (bits & 0x400) != 0;
  cup->due_mist = (bits & 0x800) != 0;
  cup->due_look = (bits & 0x1000) != 0;
  cup->offered = (bits & 0x2000) != 0;
  cup->moults = (int) ((bits >> 16) % 10) - 1;
  cup->adult = (bits & 0x10000000) != 0;
  cup->subadult = !cup->adult && (bits & 0x20000000) != 0;
  cup->maybe_adult = !cup->adult && (bits & 0x40000000) != 0 && (bits & 0x80000000) != 0;
  cup->species = cup->lot ? -1 : (int) ((bits >> 33) % (N_SPECIES + 1)) - 1;
  for (int prey = 0; prey < CORE_N_PREY; prey++)
    cup->prey_fit[prey] = fuzz_below (rand, 3) == 0 ? (int) fuzz_below (rand, 5) : 0;
  cup->usual_prey = (int) fuzz_below (rand, CORE_N_PREY + 1) - 1;
  cup->usual_n = cup->usual_prey >= 0 ? (int) fuzz_below (rand, 4) : 0;
}

static CoreRoundShelf
make_shelf (uint32_t salt)
{
  static const size_t sizes[] = { 60, 0, 1, 8, 40, 80, 300, MAX_CUPS };
  FuzzRand rand = { salt * 0x9e3779b97f4a7c15 + 88172645463325252u };
  CoreRoundShelf shelf = { .cups = cups, .n_cups = sizes[salt % G_N_ELEMENTS (sizes)] };

  for (size_t i = 0; i < shelf.n_cups; i++)
    make_cup (&cups[i], i, &rand);
  shelf.scheme = 1 + (int) (salt / 8 % 2);
  shelf.weekday = (int) (salt / 16 % 7);
  g_array_set_size (terms, n_words);
  for (size_t i = 0; i < shelf.n_cups; i++)
    if (cups[i].lot)
      {
        CoreRoundTerm term = { cups[i].number, CORE_WORD_LOT, (int) i };

        g_array_append_val (terms, term);
      }
  return shelf;
}

/* ---- what must hold ---- */

static CoreStatus
parse (const char *line, const CoreRoundShelf *shelf, CoreRoundLine *out)
{
  return core_round_parse (line, (const CoreRoundTerm *) (const void *) terms->data, terms->len, shelf, out);
}

static void
check_problems (const char *text, const CoreRoundLine *line)
{
  size_t length = strlen (text);

  g_assert_cmpuint (line->n_problems, <=, CORE_ROUND_MAX_PROBLEMS);
  for (size_t i = 0; i < line->n_problems; i++)
    {
      const CoreRoundProblem *problem = &line->problems[i];
      g_autofree char *said = words_round_problem (WORDS_LOCAL, problem, text);

      g_assert_cmpint (problem->error, >, CORE_ROUND_OK);
      g_assert_cmpint (problem->error, <, CORE_N_ROUND_ERRORS);
      g_assert_cmpuint (problem->start, <=, length);
      g_assert_cmpuint (problem->length, <=, length - problem->start);
      g_assert_true (i == 0 || line->problems[i - 1].start <= problem->start);
      g_assert_true (g_utf8_validate (said, -1, NULL));
    }
}

static gboolean
takes_off (CoreRoundWord word)
{
  return word == CORE_WORD_DEAD || word == CORE_WORD_ESCAPED || word == CORE_WORD_LEFT ||
         word == CORE_WORD_SKIP;
}

static void
check_write (const CoreRoundShelf *shelf, const CoreRoundLine *line, const CoreRoundWrite *write)
{
  const CoreRoundCup *cup;
  WordsView view = { WORDS_LOCAL, 20000, shelf->scheme };
  g_autofree char *said = NULL;

  g_assert_cmpuint (write->cup, <, shelf->n_cups);
  g_assert_cmpuint (write->other, <, shelf->n_cups);
  cup = &shelf->cups[write->cup];
  g_assert_true (cup->living_single || cup->lot);
  g_assert_cmpint (write->prey, >=, -1);
  g_assert_cmpint (write->prey, <, CORE_N_PREY);
  g_assert_cmpint (write->n, >=, 0);
  g_assert_cmpint (write->value, >=, 0);
  g_assert_cmpint (write->value, <=, 5);
  g_assert_cmpint (write->days_back, >=, 0);
  g_assert_cmpint (write->days_back, <, 7);
  g_assert_cmpuint (write->action, <, write->exception ? line->n_exceptions : line->n_actions);
  g_assert_cmpint (write->what, !=, CORE_WORD_SKIP);
  if (!write->exception && line->opening.lot < 0)
    {
      g_assert_true (cup->living_single);
      g_assert_true (!cup->held || write->what == CORE_WORD_LOOKED || write->what == CORE_WORD_GONE);
      g_assert_true (write->what != CORE_WORD_FED || write->prey < 0 || cup->prey_fit[write->prey] == 0);
    }
  said = words_round_write (&view, cup->number, shelf->cups[write->other].number, 20000, write);
  g_assert_true (g_utf8_validate (said, -1, NULL));
}

/* Of a cup that is taken off the shelf or left out nothing else is written. */
static void
check_plan (const CoreRoundShelf *shelf, const CoreRoundLine *line, const CoreRoundPlan *plan)
{
  for (size_t i = 0; i < plan->n_writes; i++)
    check_write (shelf, line, &plan->writes[i]);
  for (size_t i = 0; i < plan->n_left_out; i++)
    {
      g_assert_cmpuint (plan->left_out[i].cup, <, shelf->n_cups);
      g_assert_cmpuint (plan->left_out[i].action, <, line->n_actions);
      g_assert_cmpint (plan->left_out[i].why, <, CORE_N_LEFT_OUT);
    }
  for (size_t e = 0; e < line->n_exceptions && line->n_problems == 0; e++)
    {
      const CoreRoundException *said = &line->exceptions[e];

      if (said->lot || !takes_off (said->outcome))
        continue;
      for (size_t i = 0; i < plan->n_writes; i++)
        g_assert_true (strcmp (shelf->cups[plan->writes[i].cup].number, said->number) != 0 ||
                       (plan->writes[i].exception && plan->writes[i].what == said->outcome));
    }
}

static gboolean
same_write (const CoreRoundWrite *a, const CoreRoundWrite *b)
{
  return a->cup == b->cup && a->what == b->what && a->prey == b->prey && a->n == b->n &&
         a->code == b->code && a->value == b->value && a->to == b->to &&
         a->days_back == b->days_back && a->about == b->about && a->other == b->other &&
         a->exception == b->exception;
}

/* In any order: the same outcome of several cups is said once. */
static void
check_same_plan (const CoreRoundPlan *a, const CoreRoundPlan *b, const char *text, const char *again)
{
  gboolean same = a->n_writes == b->n_writes && a->n_left_out == b->n_left_out;

  for (size_t i = 0; same && i < a->n_writes; i++)
    {
      gboolean found = FALSE;

      for (size_t k = 0; k < b->n_writes && !found; k++)
        found = same_write (&a->writes[i], &b->writes[k]);
      same = found;
    }
  if (!same)
    g_error ("“%s” was said as “%s”, which means something else", text, again);
}

/* What was understood, said in full words, is understood as the same. */
static void
check_said (const CoreRoundShelf *shelf, const char *text, const CoreRoundLine *line, const CoreRoundPlan *plan)
{
  for (int lang = 0; lang < 2; lang++)
    {
      g_autofree char *again = words_round_line ((WordsLang) lang, line, text, shelf->weekday);
      g_autofree char *folded = g_utf8_strdown (again, -1);
      CoreRoundLine read;
      CoreRoundPlan reads;

      if (strlen (folded) > 4096)
        continue;
      if (parse (folded, shelf, &read) != CORE_OK)
        g_error ("“%s” was said as “%s”, which is refused: %d at %zu", text, again, read.problems[0].error,
                 read.problems[0].start);
      g_assert_cmpint (core_round_resolve (&read, shelf, &reads), ==, CORE_OK);
      check_same_plan (plan, &reads, text, again);
      core_round_plan_clear (&reads);
      core_round_line_clear (&read);
    }
}

static void
run (const uint8_t *data, size_t length, uint32_t salt)
{
  CoreRoundShelf shelf = make_shelf (salt);
  g_autofree char *text = g_strndup ((const char *) data, length);
  CoreRoundLine line;
  CoreRoundPlan plan;
  CoreStatus status = parse (text, &shelf, &line);

  g_assert_true (status == CORE_OK || status == CORE_BAD_INPUT);
  g_assert_true ((status == CORE_OK) == (line.n_problems == 0));
  check_problems (text, &line);
  g_assert_cmpint (core_round_resolve (&line, &shelf, &plan), ==, status);
  check_plan (&shelf, &line, &plan);
  if (status == CORE_OK)
    check_said (&shelf, text, &line, &plan);
  core_round_plan_clear (&plan);
  core_round_line_clear (&line);
}

int
main (int argc, char *argv[])
{
  static const CoreRoundTerm kinds[] = { { "ghost mantis", CORE_WORD_SPECIES, 0 },
                                         { "phyllocrania paradoxa", CORE_WORD_SPECIES, 0 },
                                         { "geistermantis", CORE_WORD_SPECIES, 0 },
                                         { "giant asian mantis", CORE_WORD_SPECIES, 1 },
                                         { "hierodula membranacea", CORE_WORD_SPECIES, 1 },
                                         { "miomantis caffra", CORE_WORD_SPECIES, 2 } };
  static const FuzzTarget target = { .max_bytes = 5000, .scraps = scraps, .run = run };
  const CoreRoundTerm *words;
  gsize n;

  setlocale (LC_ALL, "");
  words_init (NULL);
  words = words_round_terms (WORDS_LOCAL, &n);
  terms = g_array_new (FALSE, FALSE, sizeof (CoreRoundTerm));
  g_array_append_vals (terms, words, (guint) n);
  g_array_append_vals (terms, kinds, G_N_ELEMENTS (kinds));
  n_words = terms->len;
  return fuzz_main (argc, argv, &target);
}
