/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-sex.c — the combination of evidence about the sex, from the line alone.
 *
 * Counts typed here are the keeper's; plates_likelihood is the finder's,
 * unconfirmed. What belongs to one picture goes into one reading. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

#include "desk/desk-identity.h"

#define MAX_INPUTS 4

typedef struct
{
  const char *species;
  CoreSexInput inputs[MAX_INPUTS]; /* the first is the picture */
  gsize n;
} Call;

static const char *const yes_no[] = { "yes", "no", NULL };
static const char *const sexes[] = { "male", "female", NULL };
static const char *const small_plates[] = { "counted", "not", "unknown", NULL };
static const char *const conventions[] = { "plates", "appendages", "unknown", NULL };
static const char *const last_plates[] = { "boat", "small", "unclear", NULL };

static gboolean
bad (const char *key, const char *value, const char *expected)
{
  cli_refuse ("%s=%s: expected %s.", key, value, expected);
  return FALSE;
}

static gboolean
read_word (const char *key, const char *value, const char *const *words, int *out)
{
  g_autoptr (GString) list = g_string_new ("one of:");

  *out = core_word_index (words, value);
  if (*out >= 0)
    return TRUE;
  for (int i = 0; words[i] != NULL; i++)
    g_string_append_printf (list, " %s", words[i]);
  return bad (key, value, list->str);
}

static gboolean
read_number (const char *key, const char *value, double min, double max, double *out)
{
  char low[32], high[32];
  g_autofree char *expected = NULL;

  if (core_number_parse (value, out) && *out >= min && *out <= max)
    return TRUE;
  core_number_format (min, 2, low);
  core_number_format (max, 2, high);
  expected = g_strdup_printf ("a number from %s to %s", low, high);
  return bad (key, value, expected);
}

static gboolean
read_whole (const char *key, const char *value, int min, int max, int *out)
{
  double number;

  if (!read_number (key, value, min, max, &number))
    return FALSE;
  if (number != floor (number))
    return bad (key, value, "a whole number");
  *out = (int) number;
  return TRUE;
}

/* "6:.7,8:.02", "none:.1" for a picture without plates. */
static gboolean
read_likelihood (const char *value, CoreSexReading *reading)
{
  g_auto (GStrv) items = g_strsplit (value, ",", -1);
  double sum = 0;

  for (char **item = items; *item != NULL; item++)
    {
      char *colon = strchr (*item, ':');
      double count = 0, weight = 0;

      if (colon == NULL || !core_number_parse (colon + 1, &weight) || !(weight >= 0) ||
          !isfinite (weight))
        return bad ("plates_likelihood", value, "counts with weights, such as 6:.7,8:.02");
      *colon = '\0';
      sum += weight;
      if (strcmp (*item, "none") == 0)
        reading->likelihood_none = weight;
      else if (core_number_parse (*item, &count) && count >= 4 && count <= 10 &&
               count == floor (count))
        reading->likelihood[(int) count] = weight;
      else
        return bad ("plates_likelihood", value, "counts from 4 to 10, such as 6:.7,8:.02");
    }
  return sum > 0 || bad ("plates_likelihood", value, "at least one weight above 0");
}

static gboolean
read_cue (const char *value, CoreSexReading *reading)
{
  const char *colon = strchr (value, ':');
  int sex;

  if (colon == NULL || colon == value || (gsize) (colon - value) >= sizeof reading->cue)
    return bad ("cue", value, "NAME:male or NAME:female");
  if (!read_word ("cue", colon + 1, sexes, &sex))
    return FALSE;
  memcpy (reading->cue, value, (gsize) (colon - value));
  reading->cue_sex = sex == 0 ? CORE_SEX_MALE : CORE_SEX_FEMALE;
  return TRUE;
}

/* build, descent, claim: a reading of its own, as a `sexed` entry would be. */
static gboolean
read_sexed (Call *call, const char *key, const char *value, int method)
{
  CoreSexInput *input = &call->inputs[call->n];
  int sex;

  if (!read_word (key, value, sexes, &sex))
    return FALSE;
  core_sex_input_init (input, CORE_KIND_SEXED);
  input->from_call = true;
  input->reading.method = method;
  input->reading.sex = sex == 0 ? CORE_SEX_MALE : CORE_SEX_FEMALE;
  call->n++;
  return TRUE;
}

static gboolean
read_picture (Call *call, const char *key, const char *value, gboolean *known)
{
  CoreSexReading *reading = &call->inputs[0].reading;

  if (strcmp (key, "plates") == 0)
    {
      reading->by_keeper = true;
      return read_whole (key, value, 1, CORE_MAX_MOULTS, &reading->count);
    }
  if (strcmp (key, "plates_likelihood") == 0)
    return read_likelihood (value, reading);
  if (strcmp (key, "small_plate") == 0)
    return read_word (key, value, small_plates, &reading->small_plate);
  if (strcmp (key, "convention") == 0)
    return read_word (key, value, conventions, &reading->convention);
  if (strcmp (key, "last_plate") == 0)
    return read_word (key, value, last_plates, &reading->last_plate);
  if (strcmp (key, "wing_ratio") == 0)
    return read_number (key, value, 0, 10, &reading->wing_ratio);
  if (strcmp (key, "wing_sd") == 0)
    return read_number (key, value, 0, 10, &reading->wing_sd);
  if (strcmp (key, "tegmen_pronotum") == 0)
    return read_number (key, value, 0, 20, &reading->tegmen_pronotum);
  if (strcmp (key, "tegmen_pronotum_sd") == 0)
    return read_number (key, value, 0, 20, &reading->tegmen_pronotum_sd);
  if (strcmp (key, "cue") == 0)
    return read_cue (value, reading);
  *known = FALSE;
  return FALSE;
}

static gboolean
read_pair (Call *call, const char *key, const char *value, int *moults, int *adult)
{
  gboolean known = TRUE;

  if (strcmp (key, "species") == 0)
    {
      call->species = value;
      return TRUE;
    }
  if (strcmp (key, "moults") == 0)
    return read_whole (key, value, 0, CORE_MAX_MOULTS, moults);
  if (strcmp (key, "adult") == 0)
    return read_word (key, value, yes_no, adult);
  if (strcmp (key, "build") == 0)
    return read_sexed (call, key, value, CORE_METHOD_BUILD);
  if (strcmp (key, "descent") == 0)
    return read_sexed (call, key, value, CORE_METHOD_DESCENT);
  if (strcmp (key, "claim") == 0)
    return read_sexed (call, key, value, CORE_METHOD_CLAIM);
  if (read_picture (call, key, value, &known))
    return TRUE;
  if (!known)
    cli_refuse ("There is no key '%s' here. `mantidary-cli sex --help` lists them.", key);
  return FALSE;
}

static gboolean
read_call (Cli *cli, Call *call)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  int moults = -1, adult = 1;

  core_sex_input_init (&call->inputs[0], CORE_KIND_MARKED);
  call->inputs[0].from_call = true;
  call->n = 1;
  for (guint i = 0; i < cli->words->len; i++)
    {
      const char *pair = cli_word (cli, i);
      const char *equals = strchr (pair, '=');
      char *key;

      if (equals == NULL || equals == pair)
        {
          cli_refuse ("'%s' is not of the form key=value.", pair);
          return FALSE;
        }
      key = g_strndup (pair, (gsize) (equals - pair));
      if (!g_hash_table_add (seen, key))
        {
          cli_refuse ("%.*s= was given twice.", (int) (equals - pair), pair);
          return FALSE;
        }
      if (!read_pair (call, key, equals + 1, &moults, &adult))
        return FALSE;
    }
  for (gsize i = 0; i < call->n; i++)
    {
      core_sex_input_moults (&call->inputs[i], moults);
      call->inputs[i].adult = adult == 0;
    }
  return TRUE;
}

/* FALSE: said so. */
static gboolean
check_cues (const Call *call, const CoreProfile *profile)
{
  for (gsize i = 0; i < call->n; i++)
    if (call->inputs[i].reading.cue[0] != '\0' &&
        !core_sex_cue_known (profile, call->inputs[i].reading.cue))
      {
        g_autoptr (GString) known = g_string_new (NULL);

        for (size_t k = 0; core_sex_cue_name (k) != NULL; k++)
          g_string_append_printf (known, "%s%s", k > 0 ? ", " : "", core_sex_cue_name (k));
        cli_refuse ("There is no cue '%s'. Cues are: %s.", call->inputs[i].reading.cue, known->str);
        return FALSE;
      }
  return TRUE;
}

/* FALSE: said so. */
static gboolean
check_convention (const Call *call, const CoreProfile *profile)
{
  if (core_sex_convention_fits (profile, call->inputs[0].reading.convention))
    return TRUE;
  cli_refuse ("Belly appendages are counted only in empusids. Of %s count the belly plates.",
              profile->scientific);
  return FALSE;
}

CliExit
cli_sex (Cli *cli)
{
  Call call = { 0 };
  g_autoptr (DeskProfiles) profiles = NULL;
  const CoreProfile *profile;
  CoreSexVerdict verdict;
  GError *error = NULL;

  if (!read_call (cli, &call))
    return CLI_CANNOT;
  profiles = desk_profiles_load (&error);
  if (profiles == NULL)
    return cli_fail (error);
  profile = desk_profiles_find (profiles, call.species != NULL ? call.species : "unknown", &error);
  if (profile == NULL)
    return cli_fail (error);
  if (!check_cues (&call, profile) || !check_convention (&call, profile))
    return CLI_CANNOT;
  if (core_sex_combine (profile, call.inputs, call.n, &verdict) != CORE_OK)
    return cli_refuse ("There is not enough memory.");
  cli_out_open (&cli->out, NULL);
  cli_put_verdict (cli, &verdict);
  cli_put_asks (cli, verdict.ask);
  cli_put_evidence (cli, &verdict, (CoreId){ 0 }, FALSE);
  cli_out_close (&cli->out);
  core_sex_verdict_clear (&verdict);
  return cli_finish (cli);
}

/* ---- photo sex ---- */

/* What this picture says by itself: the state with its readings alone. */
static CoreStatus
verdict_of_photo (DeskSubject *subject, CoreId photo, CoreSexVerdict *out)
{
  CoreState only = *desk_subject_state (subject);
  g_autofree CoreSexReading *readings = g_new0 (CoreSexReading, only.sex.n + 1);
  gsize n = 0;

  for (gsize i = 0; i < only.sex.n; i++)
    if (core_id_equal (only.sex.v[i].photo, photo))
      readings[n++] = only.sex.v[i];
  only.sex.v = readings;
  only.sex.n = n;
  return core_sex_of_state (desk_subject_profile (subject), &only, out);
}

CliExit
cli_photo_sex (Cli *cli)
{
  CoreId photo;
  const CoreEntry *entry;
  g_autoptr (DeskSubject) subject = NULL;
  CoreSexVerdict verdict;

  if (!cli_entry_id (cli_word (cli, 0), &photo))
    return CLI_CANNOT;
  entry = desk_entry_heir (cli->desk, photo);
  if (entry == NULL || entry->kind != CORE_KIND_PHOTO)
    return cli_refuse ("There is no such photo in this journal. `history SUBJECT` lists them.");
  subject = desk_get (cli->desk, entry->subject);
  photo = desk_photo_first (cli->desk, photo);
  if (verdict_of_photo (subject, photo, &verdict) != CORE_OK)
    return cli_refuse ("There is not enough memory.");
  cli_out_open (&cli->out, NULL);
  cli_out_id (&cli->out, "photo", photo);
  cli_out_str (&cli->out, "subject", desk_subject_label (subject));
  cli_put_verdict (cli, &verdict);
  cli_put_asks (cli, verdict.ask);
  cli_put_evidence (cli, &verdict, (CoreId){ 0 }, TRUE);
  cli_out_close (&cli->out);
  core_sex_verdict_clear (&verdict);
  return cli_finish (cli);
}
