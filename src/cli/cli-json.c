/* SPDX-License-Identifier: GPL-3.0-or-later */
/* cli-json.c — pieces that several answers share: reasons and evidence.
 *
 * `text` is always the untranslated English; names of rules, units, kinds are
 * the contract. */
#include "cli/cli.h"

#include <math.h>
#include <string.h>

static const char *const unit_names[] = {
  [CORE_UNIT_NONE] = "none",       [CORE_UNIT_DAYS] = "days",
  [CORE_UNIT_TIMES] = "times",     [CORE_UNIT_MM] = "mm",
  [CORE_UNIT_CELSIUS] = "celsius", [CORE_UNIT_PERCENT] = "percent",
  [CORE_UNIT_SCORE] = "score",     [CORE_UNIT_PROBABILITY] = "probability",
  [CORE_UNIT_MOULTS] = "moults",   [CORE_UNIT_DAY] = "day",
};

static const char *const evidence_names[CORE_N_EVIDENCE] = {
  [CORE_EVIDENCE_COUNT] = "count",     [CORE_EVIDENCE_LAST_PLATE] = "last_plate",
  [CORE_EVIDENCE_WINGS] = "wings",     [CORE_EVIDENCE_TEGMEN] = "tegmen",
  [CORE_EVIDENCE_CUE] = "cue",         [CORE_EVIDENCE_BUILD] = "build",
  [CORE_EVIDENCE_DESCENT] = "descent", [CORE_EVIDENCE_CLAIM] = "claim",
  [CORE_EVIDENCE_LAID] = "laid",       [CORE_EVIDENCE_JOINED] = "joined",
  [CORE_EVIDENCE_UNSAID] = "unsaid",
};

static void
put_reason (Cli *cli, const CoreReason *reason, gboolean shifts)
{
  WordsView view = cli_view (cli);
  g_autofree char *text = words_reason (&view, reason);

  cli_out_open (&cli->out, NULL);
  cli_out_str (&cli->out, "rule", reason->rule);
  cli_out_array (&cli->out, "entries");
  for (int i = 0; i < reason->n_entries; i++)
    cli_out_id (&cli->out, NULL, reason->entries[i]);
  cli_out_array_end (&cli->out);
  if (reason->unit == CORE_UNIT_DAY)
    cli_out_day (&cli->out, "value",
                 isfinite (reason->value) ? (CoreDay) reason->value : CORE_DAY_NONE);
  else
    cli_out_num (&cli->out, "value", reason->value, 4);
  cli_out_str (&cli->out, "unit", unit_names[reason->unit]);
  if (shifts && reason->has_shift)
    cli_out_num (&cli->out, "shift_days", reason->shift_days, 2);
  else if (shifts)
    cli_out_null (&cli->out, "shift_days");
  if (reason->day != CORE_DAY_NONE)
    cli_out_day (&cli->out, "day", reason->day);
  cli_out_str (&cli->out, "text", text);
  cli_out_close (&cli->out);
}

void
cli_put_reasons (Cli *cli, const CoreReason *reasons, gsize n, gboolean shifts)
{
  cli_out_array (&cli->out, "reasons");
  for (gsize i = 0; i < n; i++)
    put_reason (cli, &reasons[i], shifts);
  cli_out_array_end (&cli->out);
}

/* `places`: with photo, entry and stage, as for a subject of the journal. */
void
cli_put_evidence (Cli *cli, const CoreSexVerdict *verdict, CoreId photo, gboolean places)
{
  WordsView view = cli_view (cli);

  cli_out_array (&cli->out, "evidence");
  for (gsize i = 0; i < verdict->n; i++)
    {
      const CoreEvidence *piece = &verdict->evidence[i];
      g_autofree char *text = NULL;

      if (!core_id_is_none (photo) && !core_id_equal (piece->photo, photo))
        continue;
      text = words_evidence (&view, piece);
      cli_out_open (&cli->out, NULL);
      cli_out_str (&cli->out, "kind", evidence_names[piece->kind]);
      if (places)
        {
          cli_out_id (&cli->out, "photo", piece->photo);
          cli_out_id (&cli->out, "entry", piece->entry);
          if (piece->moults >= 0)
            cli_out_int (&cli->out, "moults", piece->moults);
          else
            cli_out_null (&cli->out, "moults");
        }
      cli_out_num (&cli->out, "log_odds", piece->log_odds, 4);
      cli_out_num (&cli->out, "counted", piece->counted, 4);
      cli_out_str (&cli->out, "text", text);
      cli_out_close (&cli->out);
    }
  cli_out_array_end (&cli->out);
}

void
cli_put_verdict (Cli *cli, const CoreSexVerdict *verdict)
{
  cli_out_num (&cli->out, "male", verdict->male, 4);
  cli_out_num (&cli->out, "female", verdict->female, 4);
  cli_out_str (&cli->out, "verdict", words_verdict_id (verdict->verdict));
  cli_out_bool (&cli->out, "provisional", verdict->provisional);
}

void
cli_put_asks (Cli *cli, unsigned ask)
{
  cli_out_array (&cli->out, "ask");
  for (unsigned bit = 1; bit != 0 && bit <= ask; bit <<= 1)
    if ((ask & bit) != 0 && words_ask_id (bit) != NULL)
      cli_out_str (&cli->out, NULL, words_ask_id (bit));
  cli_out_array_end (&cli->out);
}
