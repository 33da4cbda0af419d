/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-entry.c — the kind table, checked values, numbers. */
#include <glib.h>
#include <math.h>

#include "core/core-date.h"
#include "core/core-entry.h"

typedef struct
{
  const char *text;
  gboolean ok;
  double value;
} NumberRow;

static const NumberRow numbers[] = {
  { "0", TRUE, 0 },
  { "-0", TRUE, 0 },
  { "14", TRUE, 14 },
  { "+14", TRUE, 14 },
  { ".7", TRUE, .7 },
  { "0.02", TRUE, .02 },
  { "-12.125", TRUE, -12.125 },
  { "1e3", TRUE, 1000 },
  { "2.5E-3", TRUE, .0025 },
  { "123456789012345", TRUE, 123456789012345. },
  { "0000000000000000000000012", TRUE, 12 },
  { "1234567890123456789012", TRUE, 1234567890123456789012. },
  { "", FALSE, 0 },
  { "-", FALSE, 0 },
  { ".", FALSE, 0 },
  { "5.", FALSE, 0 },
  { "1,5", FALSE, 0 },
  { " 1", FALSE, 0 },
  { "1 ", FALSE, 0 },
  { "1e", FALSE, 0 },
  { "1e+", FALSE, 0 },
  { "1e999999999999", FALSE, 0 },
  { "0x10", FALSE, 0 },
  { "inf", FALSE, 0 },
  { "nan", FALSE, 0 },
  { "--1", FALSE, 0 },
  { "1.2.3", FALSE, 0 },
  { "11111111111111111111111111111111111111111", FALSE, 0 },
};

static void
test_number_parse (void)
{
  double value;

  for (gsize i = 0; i < G_N_ELEMENTS (numbers); i++)
    {
      g_test_message ("%s", numbers[i].text);
      value = NAN;
      g_assert_cmpint (core_number_parse (numbers[i].text, &value), ==, numbers[i].ok);
      if (numbers[i].ok)
        g_assert_cmpfloat_with_epsilon (value, numbers[i].value,
                                        fabs (numbers[i].value) * 1e-15 + 1e-300);
    }
  g_assert_false (core_number_parse (NULL, &value));
}

typedef struct
{
  double value;
  int decimals;
  const char *text;
} FormatRow;

static const FormatRow formats[] = {
  { 0, 3, "0" },
  { -0., 3, "0" },
  { 14, 0, "14" },
  { .2, 1, "0.2" },
  { .25, 3, "0.25" },
  { -.5, 2, "-0.5" },
  { 1.005, 1, "1" },
  { 2.675, 3, "2.675" },
  { 99.96, 1, "100" },
  { -.0004, 2, "0" },
  { 123456.789, 3, "123456.789" },
  { 1e15, 2, "100000000000000e1" },
  { NAN, 2, "nan" },
  { INFINITY, 2, "nan" },
  { 1e300, 9, "100000000000000e286" },
  { 1e14, 9, "100000000000000" },
};

static void
test_number_format (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (formats); i++)
    {
      char text[32];

      core_number_format (formats[i].value, formats[i].decimals, text);
      g_assert_cmpstr (text, ==, formats[i].text);
    }
}

/* A number with k decimals comes back bit for bit. */
static void
test_number_round_trip (void)
{
  for (int i = 0; i < 20000; i++)
    {
      int decimals = g_test_rand_int_range (0, 7);
      double power = pow (10, decimals);
      double value = floor (g_test_rand_double_range (-1e6, 1e6) * power) / power;
      double back;
      char text[32];

      core_number_format (value, decimals, text);
      g_assert_true (core_number_parse (text, &back));
      g_assert_true (back == value);
    }
}

/* The table: names found again, no two keys of a kind in one column. */
static void
test_kind_table (void)
{
  for (int kind = CORE_KIND_NONE + 1; kind < CORE_N_KINDS; kind++)
    {
      const CoreKindInfo *info = core_kind_info ((CoreKind) kind);
      unsigned columns = 0;

      g_assert_nonnull (info);
      g_assert_cmpint (info->kind, ==, kind);
      g_assert_nonnull (info->name);
      g_assert_cmpint (core_kind_from_name (info->name), ==, kind);
      g_assert_cmpuint (info->subjects, !=, 0);
      g_assert_false (info->reserved && info->typed);
      for (const CoreKindKey *row = info->keys; row->key != CORE_KEY_NONE; row++)
        {
          g_assert_true (core_kind_key ((CoreKind) kind, row->key) == row);
          g_assert_true (core_kind_key_by_name ((CoreKind) kind, row->name) == row);
          g_assert_cmpint (row->type == CORE_VALUE_CODE, ==, row->words != NULL);
          g_assert_true (row->min <= row->max);
          if (row->column == CORE_COLUMN_MORE)
            continue;
          g_assert_cmpuint (columns & 1u << row->column, ==, 0);
          columns |= 1u << row->column;
          if (row->column == CORE_COLUMN_REF)
            g_assert_cmpint (row->type, ==, CORE_VALUE_REF);
          if (row->column == CORE_COLUMN_N || row->column == CORE_COLUMN_SD)
            g_assert_true (row->type == CORE_VALUE_INT || row->type == CORE_VALUE_REAL ||
                           row->type == CORE_VALUE_DAY);
          if (row->column == CORE_COLUMN_CODE || row->column == CORE_COLUMN_TEXT)
            g_assert_true (row->type != CORE_VALUE_INT && row->type != CORE_VALUE_REAL &&
                           row->type != CORE_VALUE_REF);
        }
    }
  g_assert_null (core_kind_info (CORE_KIND_NONE));
  g_assert_null (core_kind_info (CORE_N_KINDS));
  g_assert_cmpint (core_kind_from_name ("nonsense"), ==, CORE_KIND_NONE);
  g_assert_cmpint (core_kind_from_name (NULL), ==, CORE_KIND_NONE);
}

typedef struct
{
  CoreKind kind;
  const char *key, *value;
  CoreValueStatus status;
} ValueRow;

#define H64 "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff"

static const ValueRow values[] = {
  { CORE_KIND_FED, "prey", "house fly", CORE_VALUE_OK },
  { CORE_KIND_FED, "prey", "housefly", CORE_VALUE_BAD_WORD },
  { CORE_KIND_FED, "n", "2", CORE_VALUE_OK },
  { CORE_KIND_FED, "n", "0", CORE_VALUE_OUT_OF_RANGE },
  { CORE_KIND_FED, "n", "2.5", CORE_VALUE_BAD_NUMBER },
  { CORE_KIND_FED, "n", "two", CORE_VALUE_BAD_NUMBER },
  { CORE_KIND_FED, "outcome", "none_in_view", CORE_VALUE_OK },
  { CORE_KIND_FED, "score", "3", CORE_VALUE_UNKNOWN_KEY },
  { CORE_KIND_BELLY, "score", "5", CORE_VALUE_OK },
  { CORE_KIND_BELLY, "score", "6", CORE_VALUE_OUT_OF_RANGE },
  { CORE_KIND_MEASURED, "mm", "31.5", CORE_VALUE_OK },
  { CORE_KIND_MEASURED, "mm", "31,5", CORE_VALUE_BAD_NUMBER },
  { CORE_KIND_MEASURED, "mm", "9000", CORE_VALUE_OUT_OF_RANGE },
  { CORE_KIND_PHOTO, "hash", H64, CORE_VALUE_OK },
  { CORE_KIND_PHOTO, "hash", "abc", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_PHOTO, "taken", "2026-02-30", CORE_VALUE_BAD_DAY },
  { CORE_KIND_PHOTO, "taken", "2026-02-28", CORE_VALUE_OK },
  { CORE_KIND_MARKED, "photo", "0190a0b0-c0d0-7000-8000-0000000000ff", CORE_VALUE_OK },
  { CORE_KIND_MARKED, "photo", "00000000-0000-0000-0000-000000000000", CORE_VALUE_BAD_ID },
  { CORE_KIND_MARKED, "photo", "ff", CORE_VALUE_BAD_ID },
  { CORE_KIND_MARKED, "axis", "1,2,3.5,4", CORE_VALUE_OK },
  { CORE_KIND_MARKED, "axis", "1,,2", CORE_VALUE_BAD_LIST },
  { CORE_KIND_MARKED, "axis", "1,2,", CORE_VALUE_BAD_LIST },
  { CORE_KIND_MARKED, "axis", "", CORE_VALUE_BAD_LIST },
  { CORE_KIND_MARKED, "likelihood", "6:.7,8:.02", CORE_VALUE_OK },
  { CORE_KIND_MARKED, "likelihood", "0:1", CORE_VALUE_OK },
  { CORE_KIND_MARKED, "likelihood", "6:.7,6:.1", CORE_VALUE_BAD_LIST },
  { CORE_KIND_MARKED, "likelihood", "6:-1", CORE_VALUE_BAD_LIST },
  { CORE_KIND_MARKED, "likelihood", "6.5:1", CORE_VALUE_BAD_LIST },
  { CORE_KIND_MARKED, "likelihood", "1e300:1", CORE_VALUE_BAD_LIST },
  { CORE_KIND_MARKED, "likelihood", "6", CORE_VALUE_BAD_LIST },
  { CORE_KIND_MARKED, "cue", "crown:female", CORE_VALUE_OK },
  { CORE_KIND_MARKED, "cue", "crown", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_MARKED, "cue", ":male", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_NOTE, "text", "two\nlines, ümlaut", CORE_VALUE_OK },
  { CORE_KIND_NOTE, "text", "bell\a", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_NOTE, "text", "\xc3(", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_NOTE, "text", "\xed\xa0\x80", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_NOTE, "text", "\xf4\x90\x80\x80", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_NOTE, "text", "\xc0\xaf", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_NOTE, "text", "\xe2\x82", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_NOTE, "text", "", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_SET, "key", "species", CORE_VALUE_OK },
  { CORE_KIND_SET, "key", "Species", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_SET, "key", "", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_SET, "key", "a.b_c9", CORE_VALUE_OK },
  { CORE_KIND_SET, "key", "abcdefghijklmnopqrstuvwx", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_SET, "value", "", CORE_VALUE_OK },
  { CORE_KIND_SET, "value", "two\nlines", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_POWER, "out_from", "23:59", CORE_VALUE_OK },
  { CORE_KIND_POWER, "out_from", "24:01", CORE_VALUE_BAD_TEXT },
  { CORE_KIND_POWER, "out_from", "9:30", CORE_VALUE_BAD_TEXT },
};

static void
test_values (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (values); i++)
    {
      CoreEntry *entry = core_entry_new (values[i].kind);

      g_test_message ("%s=%s", values[i].key, values[i].value);
      g_assert_cmpint (core_entry_set_text (entry, values[i].key, values[i].value), ==,
                       values[i].status);
      g_assert_cmpuint (entry->n_values, ==, values[i].status == CORE_VALUE_OK);
      core_entry_free (entry);
    }
}

static void
test_long_text (void)
{
  CoreEntry *entry = core_entry_new (CORE_KIND_NOTE);
  g_autofree char *fits = g_strnfill (4000, 'x');
  g_autofree char *over = g_strnfill (4001, 'x');

  g_assert_cmpint (core_entry_set_text (entry, "text", over), ==, CORE_VALUE_BAD_TEXT);
  g_assert_cmpint (core_entry_set_text (entry, "text", fits), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_text (entry, "text", "again"), ==, CORE_VALUE_TWICE);
  core_entry_free (entry);
}

static void
test_access (void)
{
  CoreEntry *entry = core_entry_new (CORE_KIND_FED), *copy;
  const CoreKindKey *missing = NULL;

  g_assert_cmpint (core_entry_set_num (entry, CORE_KEY_N, 2), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_word (entry, CORE_KEY_PREY, "house fly"), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_num (entry, CORE_KEY_OUTCOME, CORE_FED_REFUSED), ==,
                   CORE_VALUE_OK);
  g_assert_cmpint (core_entry_set_num (entry, CORE_KEY_OUTCOME, 9), ==, CORE_VALUE_BAD_WORD);
  g_assert_cmpint (core_entry_set_num (entry, CORE_KEY_BATCH, 1), ==, CORE_VALUE_BAD_NUMBER);
  g_assert_cmpint (core_entry_set_num (entry, CORE_KEY_SCORE, 1), ==, CORE_VALUE_UNKNOWN_KEY);
  copy = core_entry_copy (entry);
  core_entry_free (entry);
  g_assert_cmpint (core_entry_code (copy, CORE_KEY_PREY, -1), ==, CORE_PREY_HOUSE_FLY);
  g_assert_cmpstr (core_entry_str (copy, CORE_KEY_OUTCOME), ==, "refused");
  g_assert_cmpfloat (core_entry_num (copy, CORE_KEY_N, 0), ==, 2);
  g_assert_cmpstr (core_entry_str (copy, CORE_KEY_BATCH), ==, "");
  g_assert_cmpint (core_entry_complete (copy, &missing), ==, CORE_VALUE_OK);
  core_entry_free (copy);

  entry = core_entry_new (CORE_KIND_MEASURED);
  g_assert_cmpint (core_entry_set_num (entry, CORE_KEY_MM, NAN), ==, CORE_VALUE_BAD_NUMBER);
  g_assert_cmpint (core_entry_set_num (entry, CORE_KEY_MM, 12), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_complete (entry, &missing), ==, CORE_VALUE_MISSING);
  g_assert_cmpint (missing->key, ==, CORE_KEY_WHAT);
  core_entry_free (entry);
}

static void
test_list (void)
{
  CoreEntry *entry = core_entry_new (CORE_KIND_MARKED);
  double xy[4];

  g_assert_cmpuint (core_entry_list (entry, CORE_KEY_AXIS, xy, 4), ==, 0);
  g_assert_cmpint (core_entry_set_str (entry, CORE_KEY_AXIS, "1,2.5,-3,4,5"), ==, CORE_VALUE_OK);
  g_assert_cmpuint (core_entry_list (entry, CORE_KEY_AXIS, xy, 4), ==, 4);
  g_assert_cmpfloat (xy[1], ==, 2.5);
  g_assert_cmpfloat (xy[2], ==, -3);
  core_entry_free (entry);
}

/* Only a name and a word can be beyond us; and only what an entry cannot do without makes it say nothing. */
static void
test_beyond (void)
{
  CoreEntry *trouble = core_entry_new (CORE_KIND_TROUBLE);
  CoreEntry *mark = core_entry_new (CORE_KIND_MARKED);
  CoreEntry *copy;

  g_assert_true (core_entry_told (trouble));
  g_assert_cmpint (core_entry_add_beyond (trouble, "colour", "green"), ==, CORE_VALUE_OK);
  g_assert_cmpint (core_entry_add_beyond (trouble, "colour", "red"), ==, CORE_VALUE_TWICE);
  g_assert_cmpint (core_entry_add_beyond (trouble, "Colour", "red"), ==, CORE_VALUE_UNKNOWN_KEY);
  g_assert_cmpint (core_entry_add_beyond (trouble, "seen_by", "x"), ==, CORE_VALUE_UNKNOWN_KEY); /* a text */
  g_assert_cmpint (core_entry_add_beyond (trouble, "sure", "Not!"), ==, CORE_VALUE_BAD_WORD);
  g_assert_cmpint (core_entry_add_beyond (trouble, "shade", "a\nb"), ==, CORE_VALUE_BAD_TEXT);
  g_assert_cmpint (core_entry_add_beyond (trouble, "sure", "half"), ==, CORE_VALUE_OK);
  g_assert_cmpstr (trouble->beyond, ==, "colour=green, sure=half");
  g_assert_true (core_entry_told (trouble));
  g_assert_cmpint (core_entry_add_beyond (trouble, "what", "drowned"), ==, CORE_VALUE_OK);
  g_assert_false (core_entry_told (trouble));
  copy = core_entry_copy (trouble);
  g_assert_cmpstr (copy->beyond, ==, "colour=green, sure=half, what=drowned");
  core_entry_free (copy);
  core_entry_free (trouble);

  g_assert_cmpint (core_entry_add_beyond (mark, "lens", "wide"), ==, CORE_VALUE_OK);
  g_assert_true (core_entry_told (mark));
  g_assert_cmpint (core_entry_add_beyond (mark, "side", "left"), ==, CORE_VALUE_OK);
  g_assert_false (core_entry_told (mark)); /* no underside */
  core_entry_free (mark);
}

/* The enums of the header follow the words of the table. */
static void
test_words_match_enums (void)
{
  const char *const *prey = core_kind_key (CORE_KIND_FED, CORE_KEY_PREY)->words;
  const char *const *sign = core_kind_key (CORE_KIND_SIGN, CORE_KEY_SIGN)->words;

  g_assert_cmpint (core_word_index (prey, "house fly"), ==, CORE_PREY_HOUSE_FLY);
  g_assert_cmpint (core_word_index (prey, "other"), ==, CORE_PREY_OTHER);
  g_assert_null (prey[CORE_N_PREY]);
  g_assert_cmpint (core_word_index (sign, "splitting"), ==, CORE_SIGN_SPLITTING);
  g_assert_null (sign[CORE_N_SIGNS]);
  g_assert_cmpint (core_word_index (sign, "yawning"), ==, -1);
  g_assert_cmpstr (core_kind_key (CORE_KIND_TROUBLE, CORE_KEY_WHAT)->words[CORE_TROUBLE_OTHER], ==,
                   "other");
  g_assert_cmpstr (core_kind_key (CORE_KIND_SEXED, CORE_KEY_METHOD)->words[CORE_METHOD_JOINED], ==,
                   "joined");
  g_assert_cmpstr (core_kind_key (CORE_KIND_MOULTED, CORE_KEY_OUTCOME)->words[CORE_MOULT_LIMB], ==,
                   "limb");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/core/number/parse", test_number_parse);
  g_test_add_func ("/core/number/format", test_number_format);
  g_test_add_func ("/core/number/round-trip", test_number_round_trip);
  g_test_add_func ("/core/kind/table", test_kind_table);
  g_test_add_func ("/core/kind/words", test_words_match_enums);
  g_test_add_func ("/core/entry/values", test_values);
  g_test_add_func ("/core/entry/long-text", test_long_text);
  g_test_add_func ("/core/entry/access", test_access);
  g_test_add_func ("/core/entry/list", test_list);
  g_test_add_func ("/core/entry/beyond", test_beyond);
  return g_test_run ();
}
