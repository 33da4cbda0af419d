/* SPDX-License-Identifier: GPL-3.0-or-later */
/* test-sex-check.c — what is said of the sex check after a reading agrees with the plan: open, waiting,
 * closed, or when it comes again. */
#include "desk-fixture.h"
#include "words/words-check.h"

typedef struct
{
  const char *name;
  const char *animal;
  const char *setting; /* NULL = none */
  const char *reading; /* "kind pairs"; NULL = none */
  const char *more;    /* another; NULL */
  const char *says;    /* "" = nothing */
  gboolean asked;      /* the plan has the check, today */
} Case;

static const Case cases[] = {
  { "before any", "species=hierodula hatched=2026-02-01 acquired=2026-05-01 moults=5", NULL, NULL, NULL, "stays open", TRUE },
  { "undecided", "species=hierodula hatched=2026-02-01 acquired=2026-05-01 moults=5", NULL,
    "sexed sex=unknown method=count", NULL, "comes again after the next moult, about ", FALSE },
  { "undecided, adult", "species=hierodula hatched=2026-02-01 acquired=2026-05-01 moults=5", NULL,
    "stage seen=adult", "sexed sex=unknown method=count", "after the last moult none comes", FALSE },
  { "nothing could be read", "species=hierodula hatched=2026-02-01 acquired=2026-05-01 moults=5", NULL,
    "sexed sex=male method=claim", NULL, "stays open", TRUE },
  { "likely", "species=hierodula hatched=2026-02-01 acquired=2026-05-01 moults=5", NULL,
    "sexed sex=female method=count", NULL, "is closed", FALSE },
  { "likely, for pairing", "species=hierodula hatched=2026-02-01 acquired=2026-05-01 moults=5", "key=purpose value=pairing",
    "sexed sex=female method=count", NULL, "comes again after the next moult", FALSE },
  { "settled", "species=hierodula hatched=2026-02-01 acquired=2026-05-01 moults=5", "key=purpose value=pairing",
    "stage seen=adult", "sexed sex=female method=laid", "is closed", FALSE },
  { "not needed", "species=hierodula hatched=2026-02-01 acquired=2026-05-01 moults=5", "key=sex_check value=not_needed",
    "sexed sex=unknown method=count", NULL, "as you have set it", FALSE },
  { "too early", "species=deroplatys hatched=2026-05-01 acquired=2026-05-20 moults=1", NULL,
    "sexed sex=male method=count", NULL, "once it can be read, from L", FALSE },
  { "dead", "species=hierodula hatched=2026-02-01 acquired=2026-05-01 moults=5", NULL, "died cause=age", NULL, "", FALSE },
};

static void
record (Fixture *fixture, DeskSubject *animal, const char *text)
{
  g_auto (GStrv) parts = text != NULL ? g_strsplit (text, " ", 2) : NULL;

  if (parts != NULL)
    fixture_record (fixture->desk, animal, parts[0], parts[1], 0);
}

static gboolean
is_asked (const CorePlan *plan)
{
  for (size_t i = 0; i < plan->tasks.n; i++)
    if (plan->tasks.v[i].kind == CORE_TASK_SEX_CHECK)
      return TRUE;
  return FALSE;
}

static void
test_said (Fixture *fixture, gconstpointer data)
{
  const Case *c = data;
  g_autoptr (DeskSubject) animal = fixture_add (fixture->desk, CORE_SUBJECT_ANIMAL, c->animal);
  WordsView view = { WORDS_ENGLISH, fixture_day (0), 1 };
  g_autoptr (DeskSubject) now = NULL;
  g_autofree char *said = NULL;

  fixture_record (fixture->desk, animal, "moulted", "outcome=good seen=yes", -6); /* hard, and far from its next */
  if (c->setting != NULL)
    fixture_record (fixture->desk, animal, "set", c->setting, 0);
  record (fixture, animal, c->reading);
  record (fixture, animal, c->more);
  now = desk_get (fixture->desk, desk_subject_id (animal));
  said = words_sex_check_now (&view, desk_subject_state (now), desk_subject_profile (now), desk_subject_verdict (now),
                              desk_subject_forecast (now), desk_subject_plan (now));
  if (is_asked (desk_subject_plan (now)) != c->asked)
    g_error ("%s: the plan says otherwise", c->name);
  if (c->says[0] == '\0')
    g_assert_null (said);
  else if (said == NULL || strstr (said, c->says) == NULL)
    g_error ("%s: “%s” is not in “%s”", c->name, c->says, said != NULL ? said : "");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/desk/sex-check/%s", cases[i].name);

      g_test_add (path, Fixture, &cases[i], fixture_set_up, test_said, fixture_tear_down);
    }
  return g_test_run ();
}
