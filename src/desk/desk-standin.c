/* SPDX-License-Identifier: GPL-3.0-or-later */
/* desk-standin.c — the sheet for somebody who knows nothing: a page of what to do, then one line a
 * cup and one column a day; and the emergency card. */
#include "desk/desk-private.h"
#include "desk/desk-sheet-private.h"

/* ---- a card as a run of pages ---- */

static guint
card_pages (gconstpointer data, const ExchPaper *paper)
{
  return 1;
}

static guint
card_lines (gconstpointer data)
{
  return 0;
}

static void
card_draw (gconstpointer data, const ExchPaper *paper, guint page, const char *foot, cairo_t *cr)
{
  exch_card_draw (data, paper, cr);
}

static void
card_free (gpointer data)
{
  exch_card_free (data);
}

static const DeskSheetClass card_class = { card_pages, card_lines, card_draw, card_free };

DeskSheet *
desk_emergency_card (void)
{
  DeskSheet *sheet = desk_sheet_new ();
  ExchCard *card = exch_card_new ();
  gsize n;
  const WordsParagraph *paragraphs = words_emergency (WORDS_LOCAL, &n);

  card->title = g_strdup (T_ (WORDS_LOCAL, "sheet", "Emergency: what to do now"));
  for (gsize i = 0; i < n; i++)
    exch_card_add (card, paragraphs[i].title, paragraphs[i].body);
  desk_sheet_set_title (sheet, card->title);
  desk_sheet_add (sheet, &card_class, card);
  return sheet;
}

/* ---- days as a run of pages ---- */

static guint
days_pages (gconstpointer data, const ExchPaper *paper)
{
  return exch_days_n_pages (data, paper);
}

static guint
days_lines (gconstpointer data)
{
  return ((const ExchDays *) data)->rows->len;
}

static void
days_draw (gconstpointer data, const ExchPaper *paper, guint page, const char *foot, cairo_t *cr)
{
  exch_days_draw (data, paper, page, foot, cr);
}

static void
days_free (gpointer data)
{
  exch_days_free (data);
}

static const DeskSheetClass days_class = { days_pages, days_lines, days_draw, days_free };

/* ---- the sheet ---- */

typedef struct
{
  Desk *desk;
  DeskSheet *sheet;
  WordsView view; /* without today: paper outlives it */
  CoreDay from, to;
  guint prey[CORE_N_PREY]; /* how many are needed */
  guint n_lots;            /* cups with flies always in view */
  GPtrArray *before;       /* char *, numbers of those to be fed before the first day */
  GPtrArray *cultures;     /* char *, codes of the jars that flies come from */
} Making;

typedef struct
{
  DeskSubject *subject; /* borrowed */
  CoreStandin plan;
} Cup;

static gboolean
needs_nothing (const Cup *cup, guint n_days)
{
  for (guint i = 0; i < n_days; i++)
    if (cup->plan.days[i].feed || cup->plan.days[i].mist || cup->plan.days[i].water)
      return FALSE;
  return TRUE;
}

/* Of those that go on living in their jar; other feeders are fed out of a box that is bought. */
static gboolean
gives_flies (const DeskSubject *subject)
{
  int prey = desk_subject_state (subject)->culture.prey;

  return desk_subject_kind (subject) == CORE_SUBJECT_CULTURE &&
         (prey == CORE_PREY_MELANOGASTER || prey == CORE_PREY_HYDEI);
}

/* Animals, lots and jars of flies always, egg cases and the like where something is to be done. */
static GArray *
cups_of (Making *self, GPtrArray *subjects)
{
  GArray *cups = g_array_new (FALSE, FALSE, sizeof (Cup));

  for (guint i = 0; i < subjects->len; i++)
    {
      Cup cup = { .subject = subjects->pdata[i] };
      CoreSubjectKind kind = desk_subject_kind (cup.subject);
      gboolean animal = kind == CORE_SUBJECT_ANIMAL || kind == CORE_SUBJECT_LOT;

      if (!desk_subject_standin (cup.subject, self->from, self->to, &cup.plan))
        g_error ("out of memory");
      if (animal || kind == CORE_SUBJECT_EGGCASE || gives_flies (cup.subject) || !needs_nothing (&cup, (guint) (self->to - self->from + 1)))
        g_array_append_val (cups, cup);
    }
  return cups;
}

static void
count_cup (Making *self, const Cup *cup)
{
  if (gives_flies (cup->subject))
    g_ptr_array_add (self->cultures, g_strdup (desk_subject_label (cup->subject)));
  if (cup->plan.flies_always)
    {
      self->n_lots++;
      return;
    }
  if (cup->plan.fed_before)
    g_ptr_array_add (self->before, g_strdup (desk_subject_label (cup->subject)));
  for (CoreDay day = self->from; day <= self->to && cup->plan.prey >= 0; day++)
    if (cup->plan.days[day - self->from].feed)
      self->prey[cup->plan.prey] += (guint) cup->plan.n;
}

/* What is no animal says first what it is. */
static char *
kind_of (WordsLang lang, const DeskSubject *subject)
{
  CoreSubjectKind kind = desk_subject_kind (subject);
  g_autofree char *species = desk_sheet_kind_of (subject);

  if (kind == CORE_SUBJECT_ANIMAL)
    return g_steal_pointer (&species);
  return g_strdup_printf ("%s, %s", words_subject_kind (lang, kind), species);
}

static void
fill_row (const Making *self, ExchDaysRow *row, const Cup *cup, CoreDay first, guint n_days)
{
  CoreSubjectKind kind = desk_subject_kind (cup->subject);
  gboolean animal = kind == CORE_SUBJECT_ANIMAL || kind == CORE_SUBJECT_LOT;

  row->number = g_strdup (desk_subject_label (cup->subject));
  row->kind = kind_of (self->view.lang, cup->subject);
  row->food = animal ? words_standin_food (self->view.lang, &cup->plan)
                     : g_strdup (kind == CORE_SUBJECT_EGGCASE    ? words_standin (self->view.lang, WORDS_STANDIN_EGGCASE)
                                 : gives_flies (cup->subject) ? words_standin (self->view.lang, WORDS_STANDIN_CULTURE)
                                                              : "");
  row->rest = cup->plan.rest_days > 0 ? g_strdup_printf ("+%d", cup->plan.rest_days) : g_strdup ("");
  for (guint i = 0; i < n_days; i++)
    {
      guint at = (guint) (first - self->from) + i;

      row->days[i].text = animal ? words_standin_day (self->view.lang, &cup->plan, at) : NULL;
      row->days[i].closed = cup->plan.days[at].closed;
      row->days[i].spray = cup->plan.days[at].mist || cup->plan.days[at].water;
    }
}

static void
add_week (Making *self, DeskSubject *place, GArray *cups, CoreDay first)
{
  ExchDays *days = exch_days_new ();

  days->title = words_standin_shelf (self->view.lang, desk_place_name (place));
  days->n_days = (guint) MIN (EXCH_DAYS_MOST, self->to - first + 1);
  days->span = words_standin_span (&self->view, first, first + (CoreDay) days->n_days - 1);
  days->note = g_strdup (words_standin (self->view.lang, WORDS_STANDIN_NOTE));
  for (guint i = 0; i < G_N_ELEMENTS (days->heads); i++)
    days->heads[i] = words_standin (self->view.lang, (WordsStandinPart) i);
  for (guint i = 0; i < days->n_days; i++)
    days->days[i] = words_standin_column (self->view.lang, first + (CoreDay) i);
  for (guint i = 0; i < cups->len; i++)
    fill_row (self, exch_days_add (days), &g_array_index (cups, Cup, i), first, days->n_days);
  desk_sheet_add (self->sheet, &days_class, days);
}

static void
add_shelf (Making *self, DeskSubject *place)
{
  g_autoptr (GPtrArray) subjects = desk_subjects_on (self->desk, desk_subject_id (place));
  g_autoptr (GArray) cups = cups_of (self, subjects);

  for (guint i = 0; i < cups->len; i++)
    count_cup (self, &g_array_index (cups, Cup, i));
  for (CoreDay first = self->from; first <= self->to && cups->len > 0; first += EXCH_DAYS_MOST)
    add_week (self, place, cups, first);
}

static void
add_paragraph (ExchCard *card, WordsParagraph paragraph, char *body)
{
  exch_card_add (card, paragraph.title, body);
  g_free (body);
}

static void
fill_card (Making *self, ExchCard *card, const char *call)
{
  gsize n;
  const WordsParagraph *conditions = words_standin_conditions (self->view.lang, &n);
  g_autofree char *cultures = NULL;
  WordsParagraph paragraph;
  char *body;

  card->title = g_strdup (words_standin (self->view.lang, WORDS_STANDIN_TITLE));
  card->day = words_standin_span (&self->view, self->from, self->to);
  for (gsize i = 0; i < n; i++)
    exch_card_add (card, conditions[i].title, conditions[i].body);
  if (self->before->len > 0)
    {
      g_autofree char *numbers = NULL;

      g_ptr_array_add (self->before, NULL);
      numbers = g_strjoinv (", ", (GStrv) self->before->pdata);
      paragraph = words_standin_before (self->view.lang, numbers, &body);
      add_paragraph (card, paragraph, body);
    }
  g_ptr_array_add (self->cultures, NULL);
  cultures = g_strjoinv (", ", (GStrv) self->cultures->pdata);
  paragraph = words_standin_supplies (self->view.lang, self->prey, self->n_lots, cultures, &body);
  add_paragraph (card, paragraph, body);
  paragraph = words_standin_call (self->view.lang, call, &body);
  add_paragraph (card, paragraph, body);
}

static gboolean
span_ok (Desk *self, CoreDay from, CoreDay to, GError **error)
{
  WordsDeskProblem problem;

  if (from != CORE_DAY_NONE && to != CORE_DAY_NONE && from >= desk_today (self) && to >= from &&
      to - from < CORE_STANDIN_DAYS)
    return TRUE;
  problem = from == CORE_DAY_NONE || to == CORE_DAY_NONE || to < from ? WORDS_DESK_STANDIN_DAYS
            : from < desk_today (self)                                ? WORDS_DESK_STANDIN_PAST
                                                                      : WORDS_DESK_STANDIN_LONG;
  desk_fail (error, DESK_ERROR, DESK_ERROR_VALUE, problem, NULL);
  return FALSE;
}

DeskSheet *
desk_standin_sheet (Desk *self, CoreId place, CoreDay from, CoreDay to, const char *call, GError **error)
{
  Making making = { self, NULL, { WORDS_LOCAL, CORE_DAY_NONE, desk_scheme (self) }, from, to, { 0 }, 0, NULL, NULL };
  g_autoptr (GPtrArray) before = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) cultures = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) places = NULL;
  ExchCard *card;

  if (!span_ok (self, from, to, error))
    return NULL;
  places = desk_sheet_places (self, place);
  card = exch_card_new ();
  making.sheet = desk_sheet_new ();
  making.before = before;
  making.cultures = cultures;
  desk_sheet_add (making.sheet, &card_class, card); /* first; filled when all is counted */
  for (guint i = 0; i < places->len; i++)
    add_shelf (&making, places->pdata[i]);
  fill_card (&making, card, call);
  desk_sheet_set_title (making.sheet, card->title);
  return desk_sheet_or_nothing (making.sheet, error);
}
