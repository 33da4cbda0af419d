/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-manifest.c — what a backup says it holds is read whole or refused; JSON to the letter. */
#include <string.h>

#include "exchange/exch-json.h"
#include "exchange/exch-manifest.h"

static gboolean
item_cb (ExchJson *json, const char *key, gpointer data)
{
  return exch_json_skip (json);
}

static void
test_json (void)
{
  static const struct
  {
    const char *text;
    gboolean ok;
  } cases[] = {
    { "{}", TRUE },
    { " { } ", TRUE },
    { "{\"a\": 1}", TRUE },
    { "{\"a\": -1.5e3, \"b\": [true, false, null, \"x\\u00e4\\ud83e\\udd97\\n\", {}, []]}", TRUE },
    { "", FALSE },
    { "{", FALSE },
    { "{\"a\"}", FALSE },
    { "{\"a\": 1,}", FALSE },
    { "{\"a\": 1 \"b\": 2}", FALSE },
    { "{a: 1}", FALSE },
    { "{\"a\": 1} x", FALSE },
    { "{\"a\": \"\\u0000\"}", FALSE },
    { "{\"a\": \"\\ud800\"}", FALSE },
    { "{\"a\": \"\\udc00\"}", FALSE },
    { "{\"a\": \"\\x\"}", FALSE },
    { "{\"a\": \"\t\"}", FALSE },
    { "{\"a\": \"\xff\"}", FALSE },
    { "{\"a\": \"b", FALSE },
    { "{\"a\": \"b\\", FALSE },
    { "{\"a\": \"b\\u12", FALSE },
    { "{\"a\": nul}", FALSE },
    { "{\"a\": [[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]}", FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      ExchJson json;
      gboolean ok;

      exch_json_init (&json, cases[i].text, strlen (cases[i].text));
      ok = exch_json_object (&json, item_cb, NULL) && exch_json_at_end (&json);
      if (ok != cases[i].ok)
        g_error ("%s", cases[i].text);
    }
}

static void
test_json_int (void)
{
  static const struct
  {
    const char *text;
    gint64 wanted; /* -1 = refused */
  } cases[] = {
    { "0", 0 },      { "7", 7 },       { " 100", 100 }, { "101", -1 }, { "07", -1 },
    { "-1", -1 },    { "1.0", -1 },    { "1e2", -1 },   { "", -1 },    { "x", -1 },
    { "99999999999999999999999", -1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      ExchJson json;
      gint64 out;
      gboolean ok;

      exch_json_init (&json, cases[i].text, strlen (cases[i].text));
      ok = exch_json_int (&json, 100, &out);
      g_assert_cmpint (ok ? out : -1, ==, cases[i].wanted);
    }
}

static const char good[] =
  "{\"format\": \"mantidary backup\", \"version\": 1, \"program\": \"0.1.0\", \"schema\": 1,\n"
  "\"made\": \"2026-06-14\", \"positions\": true, \"photos\": \"inside\",\n"
  "\"counts\": {\"entries\": 5, \"subjects\": 2, \"photos\": 1},\n"
  "\"database\": {\"name\": \"journal.sqlite\", \"bytes\": 4096, \"sha256\": "
  "\"0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef\"},\n"
  "\"files\": [\n{\"name\": \"photos/ab/"
  "abcdef0123456789abcdef0123456789abcdef0123456789abcdef0123456789.jpg\", \"bytes\": 17, "
  "\"sha256\": \"abcdef0123456789abcdef0123456789abcdef0123456789abcdef0123456789\"}],\n"
  "\"left_out\": []}\n";

typedef struct
{
  const char *what, *by;
  int wanted; /* ExchError, -1 = it is fine */
} Change;

static const Change changes[] = {
  { "1,", "1,", -1 },
  { "\"left_out\": []", "\"left_out\": [], \"later\": {\"x\": [1, 2]}", -1 },
  { "mantidary backup", "other backup", EXCH_ERROR_NO_BACKUP },
  { "\"format\": \"mantidary backup\", ", "", EXCH_ERROR_NO_BACKUP },
  { "\"version\": 1", "\"version\": 2", EXCH_ERROR_TOO_NEW },
  { "\"version\": 1", "\"version\": 0", EXCH_ERROR_DAMAGED },
  { "\"version\": 1", "\"version\": \"1\"", EXCH_ERROR_DAMAGED },
  { "\"schema\": 1", "\"schema\": 2", EXCH_ERROR_TOO_NEW },
  { "\"schema\": 1,", "", EXCH_ERROR_DAMAGED },
  { "2026-06-14", "2026-06-31", EXCH_ERROR_DAMAGED },
  { "\"inside\"", "\"elsewhere\"", EXCH_ERROR_DAMAGED },
  { "\"photos\": 1", "\"photos\": 2", EXCH_ERROR_DAMAGED },
  { "journal.sqlite", "../journal.sqlite", EXCH_ERROR_DAMAGED },
  { "4096", "0", EXCH_ERROR_DAMAGED },
  { "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef", "0123", EXCH_ERROR_DAMAGED },
  { "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef",
    "0123456789ABCDEF0123456789abcdef0123456789abcdef0123456789abcdef", EXCH_ERROR_DAMAGED },
  { "photos/ab/", "photos/aa/", EXCH_ERROR_DAMAGED },
  { "photos/ab/", "../../photos/ab/", EXCH_ERROR_DAMAGED },
  { ".jpg", ".j/g", EXCH_ERROR_DAMAGED },
  { ".jpg", ".jpegjpegjpeg", EXCH_ERROR_DAMAGED },
  { ".jpg", "", EXCH_ERROR_DAMAGED },
  { "\"bytes\": 17", "\"bytes\": -17", EXCH_ERROR_DAMAGED },
  { "\"bytes\": 17", "\"bytes\": 99999999999999999999", EXCH_ERROR_DAMAGED },
};

static void
test_changes (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (changes); i++)
    {
      g_auto (GStrv) parts = g_strsplit (good, changes[i].what, 2);
      g_autofree char *text = g_strconcat (parts[0], changes[i].by, parts[1], NULL);
      g_autoptr (GError) error = NULL;
      g_autoptr (ExchManifest) manifest =
        exch_manifest_parse (text, strlen (text), 1, "file", &error);

      g_assert_cmpuint (g_strv_length (parts), ==, 2);
      g_test_message ("“%s” for “%s”", changes[i].by, changes[i].what);
      if (changes[i].wanted < 0)
        {
          g_assert_no_error (error);
          g_assert_cmpuint (manifest->photos->len, ==, 1);
          g_assert_cmpint (manifest->n_entries, ==, 5);
        }
      else
        g_assert_error (error, EXCH_ERROR, changes[i].wanted);
    }
}

/* The same photo twice, or out of order. */
static void
test_order (void)
{
  static const char file[] =
    "{\"name\": \"photos/ab/abcdef0123456789abcdef0123456789abcdef0123456789abcdef0123456789.jpg\","
    " \"bytes\": 17, \"sha256\": "
    "\"abcdef0123456789abcdef0123456789abcdef0123456789abcdef0123456789\"}";
  g_autofree char *twice = g_strconcat (file, ", ", file, NULL);
  g_auto (GStrv) parts = g_strsplit (good, file, 2);
  g_autofree char *one = g_strconcat (parts[0], twice, parts[1], NULL);
  g_auto (GStrv) counts = g_strsplit (one, "\"photos\": 1", 2);
  g_autofree char *text = g_strconcat (counts[0], "\"photos\": 2", counts[1], NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpuint (g_strv_length (parts), ==, 2);
  g_assert_null (exch_manifest_parse (text, strlen (text), 1, "file", &error));
  g_assert_error (error, EXCH_ERROR, EXCH_ERROR_DAMAGED);
}

/* Written and read: the same to the letter. */
static void
test_round_trip (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (ExchManifest) manifest = exch_manifest_parse (good, strlen (good), 1, "file", &error);
  g_autofree char *text = NULL;
  gsize n;

  g_assert_no_error (error);
  text = exch_manifest_to_text (manifest, &n);
  g_assert_cmpstr (text, ==, good);
  g_assert_cmpint (exch_manifest_total (manifest), ==, 4096 + 17);
}

/* Cut anywhere: refused, never read past its end. */
static void
test_cuts (void)
{
  for (gsize n = 0; n + 2 < strlen (good); n++)
    {
      g_autofree char *exact = g_memdup2 (good, MAX (n, 1)); /* for tools that watch its end */
      g_autoptr (GError) error = NULL;

      g_assert_null (exch_manifest_parse (exact, n, 1, "file", &error));
      g_assert_nonnull (error);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exchange/json/forms", test_json);
  g_test_add_func ("/exchange/json/int", test_json_int);
  g_test_add_func ("/exchange/manifest/changes", test_changes);
  g_test_add_func ("/exchange/manifest/order", test_order);
  g_test_add_func ("/exchange/manifest/round-trip", test_round_trip);
  g_test_add_func ("/exchange/manifest/cuts", test_cuts);
  return g_test_run ();
}
