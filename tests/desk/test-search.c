/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-search.c — what is found, in which order; and that searching and saving do not wait for
 * each other. */
#include "desk/desk-private.h"
#include "desk/desk-search.h"
#include "desk-fixture.h"

static GPtrArray *
search (Desk *desk, const char *text, guint limit)
{
  DeskSync sync = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GError) error = NULL;
  GPtrArray *hits;

  desk_search_async (desk, text, limit, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  hits = desk_search_finish (desk, result, &error);
  g_assert_no_error (error);
  return hits;
}

/* "1 2 shelf": the labels of the hits. */
static void
assert_found (Desk *desk, const char *text, guint limit, const char *expected)
{
  g_autoptr (GPtrArray) hits = search (desk, text, limit);
  g_autoptr (GString) found = g_string_new (NULL);

  for (guint i = 0; i < hits->len; i++)
    {
      const DeskHit *hit = hits->pdata[i];

      g_string_append_printf (found, "%s%s%s", i > 0 ? " " : "",
                              desk_subject_label (hit->subject),
                              hit->why == DESK_HIT_NOTE   ? ":note"
                              : hit->why == DESK_HIT_PREY ? ":prey"
                              : hit->why == DESK_HIT_ENTRY ? ":entry"
                                                           : "");
    }
  if (strcmp (found->str, expected) != 0)
    g_error ("'%s' found '%s', not '%s'", text, found->str, expected);
}

static GPtrArray *
add_animals (Desk *desk, guint n)
{
  GPtrArray *animals = g_ptr_array_new_with_free_func ((GDestroyNotify) desk_subject_unref);

  desk_subject_unref (fixture_add (desk, CORE_SUBJECT_PLACE, "code=W name=Window"));
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (animals, fixture_add (desk, CORE_SUBJECT_ANIMAL,
                                           "species=hierodula hatched=2026-02-20 place=W"));
  return animals;
}

/* Many fit, few are shown: these are the first of all, whatever came in which order. */
static void
test_best (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (GPtrArray) animals = add_animals (desk, 30);

  fixture_record (desk, animals->pdata[2], "died", "", 0);
  assert_found (desk, "hierodula", 4, "1 2 4 5");
  assert_found (desk, "hierodula", 50,
                "1 2 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24 25 26 27 28 29 30 3");
  assert_found (desk, "window", 3, "W 1 2");
  assert_found (desk, "2", 5, "2 20 21 22 23");
  assert_found (desk, "HIERODULA wind", 2, "1 2");
  assert_found (desk, "hierodula cellar", 2, "");
  assert_found (desk, " ", 2, "");
  assert_found (desk, "hierodula", 0, "");
}

/* What has changed since the last letter is found under its new name at once. */
static void
test_renamed (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (GPtrArray) animals = add_animals (desk, 5);
  g_autoptr (DeskSubject) late = NULL;

  fixture_record (desk, animals->pdata[3], "set", "key=name value=Élise", 0);
  assert_found (desk, "elise", 9, "4");
  fixture_record (desk, animals->pdata[3], "set", "key=name value=Bertha", 0);
  assert_found (desk, "elise", 9, "");
  assert_found (desk, "bert", 9, "4");
  desk_change_free (fixture_undo (desk));
  assert_found (desk, "elise", 9, "4");
  late = fixture_add (desk, CORE_SUBJECT_ANIMAL, "species=hierodula name=Zita place=W");
  assert_found (desk, "zita window", 9, "6");
  desk_change_free (fixture_undo (desk));
  assert_found (desk, "zita", 9, "");
}

static void
test_entries (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (GPtrArray) animals = add_animals (desk, 4);
  CoreId note;

  fixture_record (desk, animals->pdata[0], "fed", "prey=hydei outcome=taken", -3);
  fixture_record (desk, animals->pdata[1], "fed", "prey=hydei outcome=taken", -1);
  fixture_record (desk, animals->pdata[2], "fed", "prey=hydei outcome=taken", -2);
  fixture_record (desk, animals->pdata[3], "fed", "prey=moth outcome=taken", -1);
  assert_found (desk, "hydei", 9, "2:prey 3:prey 1:prey");
  assert_found (desk, "hydei", 2, "2:prey 3:prey");
  note = fixture_record (desk, animals->pdata[3], "note", "text=bent_claw", -5);
  fixture_record (desk, animals->pdata[0], "note", "text=claw_again", -4);
  assert_found (desk, "claw", 9, "1:note 4:note");
  fixture_void (desk, note);
  assert_found (desk, "claw", 9, "1:note");
}

/* What is entered between two letters is found by the second; the latest first. */
static void
test_facts (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (GPtrArray) animals = add_animals (desk, 3);
  CoreId trouble;

  fixture_record (desk, animals->pdata[0], "trouble", "what=mites", -3);
  assert_found (desk, "mites", 9, "1:entry");
  trouble = fixture_record (desk, animals->pdata[1], "trouble", "what=mites", -1);
  fixture_record (desk, animals->pdata[2], "trouble", "what=mites", -2);
  fixture_record (desk, animals->pdata[2], "trouble", "what=worm", -2);
  assert_found (desk, "mites", 9, "2:entry 3:entry 1:entry");
  assert_found (desk, "mites", 2, "2:entry 3:entry");
  assert_found (desk, "mites window", 1, "2:entry");
  assert_found (desk, "mites cellar", 9, "");
  fixture_void (desk, trouble);
  assert_found (desk, "mites", 2, "3:entry 1:entry");
  desk_change_free (fixture_undo (desk));
  assert_found (desk, "mites", 1, "2:entry");
}

/* ---- nobody waits ---- */

/* A job that keeps a connection busy until it is let go. */
typedef struct
{
  GMutex lock;
  GCond cond;
  gboolean go, gone;
} Gate;

static gpointer
stand_job (Store *store, gpointer data, GError **error)
{
  Gate *gate = data;

  g_mutex_lock (&gate->lock);
  while (!gate->go)
    g_cond_wait (&gate->cond, &gate->lock);
  g_mutex_unlock (&gate->lock);
  return NULL;
}

static void
gone_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;

  store_run_finish (result, &error);
  g_assert_no_error (error);
  ((Gate *) data)->gone = TRUE;
}

static void
stand (Gate *gate, Store *store)
{
  g_mutex_init (&gate->lock);
  g_cond_init (&gate->cond);
  gate->go = gate->gone = FALSE;
  store_run_async (store, stand_job, gate, NULL, NULL, NULL, gone_cb, gate);
}

static void
let_go (Gate *gate)
{
  g_assert_false (gate->gone);
  g_mutex_lock (&gate->lock);
  gate->go = TRUE;
  g_cond_signal (&gate->cond);
  g_mutex_unlock (&gate->lock);
  while (!gate->gone)
    g_main_context_iteration (NULL, TRUE);
  g_mutex_clear (&gate->lock);
  g_cond_clear (&gate->cond);
}

/* Each would wait for ever where they shared a thread; the time limit of the test ends it. */
static void
test_side_by_side (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (GPtrArray) animals = add_animals (desk, 3);
  Gate gate;

  fixture_record (desk, animals->pdata[1], "note", "text=pale", 0);
  assert_found (desk, "pale", 9, "2:note");
  stand (&gate, desk->store); /* something is being saved, and takes its time */
  assert_found (desk, "pale", 9, "2:note");
  let_go (&gate);
  stand (&gate, desk->seeker); /* a search takes its time */
  fixture_record (desk, animals->pdata[2], "note", "text=pale_too", 0);
  let_go (&gate);
  assert_found (desk, "pale", 9, "3:note 2:note");
}

static void
test_closed (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (GPtrArray) animals = add_animals (desk, 2);
  DeskSync sync = { NULL }, closing = { NULL };
  g_autoptr (GAsyncResult) result = NULL;
  g_autoptr (GAsyncResult) closed = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) hits = NULL;

  desk_search_async (desk, "hierodula", 9, NULL, desk_sync_cb, &sync); /* under way */
  desk_close_async (desk, desk_sync_cb, &closing);
  closed = desk_sync_wait (&closing);
  g_assert_true (desk_close_finish (desk, closed, &error));
  g_assert_no_error (error);
  result = desk_sync_wait (&sync);
  hits = desk_search_finish (desk, result, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (hits->len, ==, 2);
  g_clear_object (&result);
  sync.result = NULL;
  desk_search_async (desk, "hierodula", 9, NULL, desk_sync_cb, &sync);
  result = desk_sync_wait (&sync);
  g_assert_null (desk_search_finish (desk, result, &error));
  g_assert_error (error, DESK_ERROR, DESK_ERROR_FAILED);
}

/* ---- the plan in rows ---- */

/* An agenda is the plan, row for row. */
static void
test_agenda (Fixture *fixture, gconstpointer data)
{
  Desk *desk = fixture->desk;
  g_autoptr (GPtrArray) animals = add_animals (desk, 12);
  CoreDay today = desk_today (desk);
  CoreId none = { { 0 } };
  g_autoptr (DeskAgenda) agenda = NULL;
  g_autoptr (DeskPlan) plan = NULL;

  for (guint i = 0; i < animals->len; i++)
    {
      fixture_record (desk, animals->pdata[i], "fed", "outcome=taken", -(int) i);
      if (i % 3 == 0)
        fixture_record (desk, animals->pdata[i], "moulted", "outcome=good", -(int) i - 1);
      if (i % 4 == 1)
        fixture_record (desk, animals->pdata[i], "trouble", "what=fell", 0);
    }
  fixture_record (desk, animals->pdata[2], "sign", "sign=hanging", 0);
  fixture_record (desk, animals->pdata[7], "moulted", "outcome=good", 0);
  agenda = desk_agenda (desk, today, today + 60, none);
  plan = desk_plan (desk, today, today + 60, none);
  g_assert_cmpuint (plan->tasks->len, >, 300);
  g_assert_cmpuint (agenda->rows->len, ==, plan->tasks->len);
  g_assert_cmpuint (agenda->held->len, ==, plan->held->len);
  for (guint i = 0, k = 0; i < animals->len; i++)
    {
      g_autoptr (DeskSubject) now = fixture_now (desk, animals->pdata[i]);

      if (desk_subject_plan (now)->hold.kind == CORE_HOLD_NONE)
        continue;
      g_assert_cmpuint (k, <, agenda->alone->len);
      g_assert_true (agenda->subjects->pdata[g_array_index (agenda->alone, guint32, k++)] == now);
    }
  g_assert_cmpuint (agenda->alone->len, >, 0);
  for (guint i = 0; i < agenda->rows->len; i++)
    {
      const DeskAgendaRow *row = &g_array_index (agenda->rows, DeskAgendaRow, i);
      const DeskTask *task = &g_array_index (plan->tasks, DeskTask, i);
      CoreTask whole;

      g_assert_true (desk_agenda_task (agenda, i, &whole));
      g_assert_cmpstr (whole.id, ==, task->task.id);
      g_assert_cmpint (row->day, ==, task->task.day);
      g_assert_cmpint (row->due, ==, task->task.due);
      g_assert_cmpint (row->latest, ==, task->task.latest);
      g_assert_cmpint (row->kind, ==, task->task.kind);
      g_assert_cmpint (row->rank, ==, task->task.rank);
      g_assert_cmpint (row->prey, ==, task->task.n_prey > 0 ? task->task.prey[0].prey : -1);
      g_assert_cmpint (row->projected, ==, task->task.projected);
      g_assert_cmpfloat (row->weight, ==, task->task.weight);
    }
}

static void
add (const char *path, void (*test) (Fixture *, gconstpointer))
{
  g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  add ("/desk/search/best", test_best);
  add ("/desk/search/renamed", test_renamed);
  add ("/desk/search/entries", test_entries);
  add ("/desk/search/facts", test_facts);
  add ("/desk/search/side-by-side", test_side_by_side);
  add ("/desk/search/closed", test_closed);
  add ("/desk/agenda/plan", test_agenda);
  return g_test_run ();
}
