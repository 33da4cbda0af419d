/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-run.c — the Store's own thread: in order, one thread, no lie about a job
 * that was cancelled. */
#include "store-testing.h"

typedef struct
{
  GMainLoop *loop;
  int left;
  GString *order;
  GThread *threads[64];
  GError *error;
  Store *opened;
} Run;

typedef struct
{
  Run *run;
  int turn;
} Ticket;

static gpointer
note_turn (Store *store, gpointer data, GError **error)
{
  Ticket *ticket = data;

  g_string_append_printf (ticket->run->order, "%d ", ticket->turn);
  ticket->run->threads[ticket->turn] = g_thread_self ();
  return g_strdup_printf ("%d", ticket->turn);
}

static void
done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Run *run = data;
  g_autofree char *text = store_run_finish (result, &run->error);

  if (--run->left == 0)
    g_main_loop_quit (run->loop);
}

static void
test_order (void)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  Run run = { .loop = g_main_loop_new (NULL, FALSE), .left = 50, .order = g_string_new (NULL) };
  g_autoptr (GString) expected = g_string_new (NULL);

  for (int i = 0; i < 50; i++)
    {
      Ticket *ticket = g_new0 (Ticket, 1);

      ticket->run = &run;
      ticket->turn = i;
      g_string_append_printf (expected, "%d ", i);
      store_run_async (store, note_turn, ticket, g_free, g_free, NULL, done_cb, &run);
    }
  g_main_loop_run (run.loop);
  g_assert_no_error (run.error);
  g_assert_cmpstr (run.order->str, ==, expected->str);
  for (int i = 0; i < 50; i++)
    {
      g_assert_true (run.threads[i] == run.threads[0]);
      g_assert_true (run.threads[i] != g_thread_self ());
    }
  g_string_free (run.order, TRUE);
  g_main_loop_unref (run.loop);
  store_close (store);
  testing_dir_remove (dir);
}

static gpointer
write_note (Store *store, gpointer data, GError **error)
{
  StoreStamp stamp = testing_stamp (1750000000000, 1);
  CoreEntry *note = testing_note (testing_id (1), "from the thread", 20000);
  gboolean ok;

  if (data != NULL) /* cancelled while it runs */
    g_cancellable_cancel (data);
  ok = testing_append (store, &note, 1, &stamp, error);
  core_entry_free (note);
  return GINT_TO_POINTER (ok);
}

static void
int_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Run *run = data;

  run->left = GPOINTER_TO_INT (store_run_finish (result, &run->error));
  g_main_loop_quit (run->loop);
}

static void
test_cancel (void)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  Run run = { .loop = g_main_loop_new (NULL, FALSE) };

  testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  /* Cancelled when it has begun: it is done, and says so. */
  store_run_async (store, write_note, cancellable, NULL, NULL, cancellable, int_done_cb, &run);
  g_main_loop_run (run.loop);
  g_assert_no_error (run.error);
  g_assert_cmpint (run.left, ==, 1);
  /* Cancelled before: it has done nothing, and says so. */
  store_run_async (store, write_note, NULL, NULL, NULL, cancellable, int_done_cb, &run);
  g_main_loop_run (run.loop);
  g_assert_error (run.error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_error (&run.error);
  g_assert_cmpuint (testing_count (dir), ==, 1);
  g_main_loop_unref (run.loop);
  store_close (store);
  testing_dir_remove (dir);
}

static void
test_job_error (void)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  Run run = { .loop = g_main_loop_new (NULL, FALSE) };

  store_run_async (store, write_note, NULL, NULL, NULL, NULL, int_done_cb, &run); /* no subject */
  g_main_loop_run (run.loop);
  g_assert_error (run.error, STORE_ERROR, STORE_ERROR_NOT_FOUND);
  g_clear_error (&run.error);
  g_main_loop_unref (run.loop);
  store_close (store);
  testing_dir_remove (dir);
}

/* Closing waits for what was asked before. */
static void
test_close_waits (void)
{
  char *dir = testing_dir_new ();
  Store *store = testing_journal (dir);
  Run run = { .loop = g_main_loop_new (NULL, FALSE) };

  testing_add_subject (store, CORE_SUBJECT_ANIMAL, 1);
  store_run_async (store, write_note, NULL, NULL, NULL, NULL, int_done_cb, &run);
  store_close (store);
  g_assert_cmpuint (testing_count (dir), ==, 1);
  g_main_loop_run (run.loop);
  g_assert_cmpint (run.left, ==, 1);
  g_main_loop_unref (run.loop);
  testing_dir_remove (dir);
}

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Run *run = data;

  run->opened = store_open_finish (result, &run->error);
  g_main_loop_quit (run->loop);
}

static void
test_open_async (void)
{
  char *dir = testing_dir_new ();
  Run run = { .loop = g_main_loop_new (NULL, FALSE) };

  store_open_async (dir, STORE_OPEN, NULL, opened_cb, &run);
  g_main_loop_run (run.loop);
  g_assert_error (run.error, STORE_ERROR, STORE_ERROR_NOT_FOUND);
  g_clear_error (&run.error);
  store_open_async (dir, STORE_CREATE, NULL, opened_cb, &run);
  g_main_loop_run (run.loop);
  g_assert_no_error (run.error);
  g_assert_nonnull (run.opened);
  g_assert_cmpstr (store_get_dir (run.opened), ==, dir);
  store_close (run.opened);
  g_main_loop_unref (run.loop);
  testing_dir_remove (dir);
}

typedef struct
{
  const char *json;
  const char *seen; /* "key=value;" for each member, NULL = refused */
} JsonCase;

static const JsonCase json_cases[] = {
  { "{}", "" },
  { " { \"a\" : 1 , \"b\" : \"x\" } ", "a=1;b='x';" },
  { "{\"a\":\"\\\"\\\\\\/\\n\\u00e4\\ud83e\\udd97\"}", "a='\"\\/\nä🦗';" },
  { "{\"a\":-1.5e-3}", "a=-0.0015;" },
  { "{\"a\":0.30000000000000004}", "a=0.30000000000000004;" },
  { "", NULL },
  { "[]", NULL },
  { "{\"a\":1", NULL },
  { "{\"a\":1}x", NULL },
  { "{\"a\":1,}", NULL },
  { "{\"a\" 1}", NULL },
  { "{\"a\":nan}", NULL },
  { "{\"a\":0x10}", NULL },
  { "{\"a\":1e999}", NULL },
  { "{\"a\":true}", NULL },
  { "{\"a\":{}}", NULL },
  { "{\"a\":\"\\u0000\"}", NULL },
  { "{\"a\":\"\\ud83e\"}", NULL },
  { "{\"a\":\"\\udd97\\ud83e\"}", NULL },
  { "{\"a\":\"\\x\"}", NULL },
  { "{\"a\":\"\\", NULL },
  { "{\"a\":\"\\u12", NULL },
  { "{\"a\":\"\xff\"}", NULL },
  { "{\"a\":\"open", NULL },
};

static gboolean
see_member (const char *key, const char *text, double n, gpointer data)
{
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  if (text != NULL)
    g_string_append_printf (data, "%s='%s';", key, text);
  else
    {
      g_ascii_formatd (digits, sizeof digits, "%.15g", n);
      if (g_ascii_strtod (digits, NULL) != n)
        g_ascii_formatd (digits, sizeof digits, "%.17g", n);
      g_string_append_printf (data, "%s=%s;", key, digits);
    }
  return TRUE;
}

static void
test_json (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (json_cases); i++)
    {
      g_autoptr (GString) seen = g_string_new (NULL);
      gboolean ok = _store_json_read (json_cases[i].json, see_member, seen);

      g_test_message ("%zu", i);
      g_assert_cmpint (ok, ==, json_cases[i].seen != NULL);
      if (ok)
        g_assert_cmpstr (seen->str, ==, json_cases[i].seen);
    }
}

/* Numbers come back bit by bit, texts byte by byte, and SQLite agrees that what
 * is written is JSON. */
static void
test_json_writes (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  sqlite3 *db = NULL;
  sqlite3_stmt *stmt = NULL;

  g_assert_cmpint (sqlite3_open (":memory:", &db), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_prepare_v2 (db, "SELECT json_valid (?1)", -1, &stmt, NULL), ==,
                   SQLITE_OK);
  for (int i = 0; i < 2000; i++)
    {
      g_autoptr (GString) json = g_string_new (NULL);
      g_autoptr (GString) seen = g_string_new (NULL);
      g_autoptr (GString) expected = g_string_new (NULL);
      double n = g_rand_double (rand) * (i % 3 == 0 ? 1e-9 : i % 3 == 1 ? 1 : 1e15);
      g_autofree char *text = g_strdup_printf ("%c\"\\é\x7f%d", 1 + i % 31, i);

      _store_json_append_number (json, "n", n);
      _store_json_append_text (json, "t", text);
      see_member ("n", NULL, n, expected);
      see_member ("t", text, 0, expected);
      g_assert_true (_store_json_read (json->str, see_member, seen));
      g_assert_cmpstr (seen->str, ==, expected->str);
      sqlite3_bind_text (stmt, 1, json->str, -1, SQLITE_STATIC);
      g_assert_cmpint (sqlite3_step (stmt), ==, SQLITE_ROW);
      g_assert_cmpint (sqlite3_column_int (stmt, 0), ==, 1);
      sqlite3_reset (stmt);
    }
  sqlite3_finalize (stmt);
  sqlite3_close (db);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/store/run/order", test_order);
  g_test_add_func ("/store/run/cancel", test_cancel);
  g_test_add_func ("/store/run/job-error", test_job_error);
  g_test_add_func ("/store/run/close-waits", test_close_waits);
  g_test_add_func ("/store/run/open-async", test_open_async);
  g_test_add_func ("/store/json/reads", test_json);
  g_test_add_func ("/store/json/writes", test_json_writes);
  return g_test_run ();
}
