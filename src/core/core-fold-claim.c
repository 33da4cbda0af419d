/* SPDX-License-Identifier: GPL-3.0-or-later */
/* core-fold-claim.c — a seller's stage, as a distribution of moults since hatch.
 *
 * The words are kept verbatim elsewhere; here they become numbers: scheme 1
 * calls the hatchling L1 (m = L - 1), scheme 2 calls it L2 (m = L - 2). Where no
 * scheme is known both count equally. Weights (ours): the claimed stage .7, each
 * neighbour .15.
 */
#include "core/core-fold-private.h"

#include <string.h>

#define SIDE .15
#define MAX_CLAIM 15

void
fold_spread (int moults, double side, double p[CORE_MAX_MOULTS + 1])
{
  double sum = 0;

  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    {
      int distance = m > moults ? m - moults : moults - m;

      p[m] = distance == 0 ? 1 - 2 * side : distance == 1 ? side : 0;
      sum += p[m];
    }
  for (int m = 0; sum > 0 && m <= CORE_MAX_MOULTS; m++)
    p[m] /= sum;
}

static char
lower (char c)
{
  return c >= 'A' && c <= 'Z' ? (char) (c - 'A' + 'a') : c;
}

static CoreSeenStage
seen_in_words (const char *text)
{
  static const struct
  {
    const char *word;
    CoreSeenStage seen;
  } words[] = {
    { "adult", CORE_SEEN_ADULT },       { "imago", CORE_SEEN_ADULT },
    { "subadult", CORE_SEEN_SUBADULT }, { "sub-adult", CORE_SEEN_SUBADULT },
    { "sub", CORE_SEEN_SUBADULT },      { "nymph", CORE_SEEN_NYMPH },
    { "presub", CORE_SEEN_NYMPH },      { "nymphe", CORE_SEEN_NYMPH },
  };
  char word[16];
  size_t length = strlen (text);

  if (length >= sizeof word)
    return CORE_SEEN_UNKNOWN;
  for (size_t i = 0; i <= length; i++)
    word[i] = lower (text[i]);
  for (size_t i = 0; i < sizeof words / sizeof *words; i++)
    if (strcmp (word, words[i].word) == 0)
      return words[i].seen;
  return CORE_SEEN_UNKNOWN;
}

/* Up to two digits; -1 when there are none. */
static int
read_number (const char **at)
{
  int value = -1;

  for (int i = 0; i < 2 && **at >= '0' && **at <= '9'; i++, (*at)++)
    value = (value < 0 ? 0 : value) * 10 + (**at - '0');
  return value;
}

static void
skip_label (const char **at)
{
  while (**at == ' ')
    (*at)++;
  if (lower (**at) == 'l' || lower (**at) == 'i')
    (*at)++;
}

/* "L4", "4", "i4", "L4-5", "L4/L5": first and last number. */
static bool
read_range (const char *text, int *first, int *last)
{
  const char *at = text;

  skip_label (&at);
  *first = read_number (&at);
  *last = *first;
  while (*at == ' ')
    at++;
  if (*at == '-' || *at == '/')
    {
      at++;
      skip_label (&at);
      *last = read_number (&at);
    }
  return *at == '\0' && *first >= 1 && *last >= *first && *last <= MAX_CLAIM && *last - *first <= 3;
}

bool
core_stage_words (const char *text, CoreSeenStage *seen)
{
  double p[CORE_MAX_MOULTS + 1];
  CoreSeenStage said;
  bool number = fold_claim (text, 0, p, &said);

  if (seen != NULL)
    *seen = said;
  return number || said != CORE_SEEN_UNKNOWN;
}

bool
core_stage_allows (const char *text, int scheme, int moults)
{
  int first, last;

  if (!read_range (text, &first, &last))
    return true;
  first -= scheme == 0 ? 2 : scheme;
  last -= scheme == 0 ? 1 : scheme;
  return moults >= (first > 0 ? first : 0) && moults <= (last > 0 ? last : 0);
}

bool
fold_claim (const char *text, int scheme, double p[CORE_MAX_MOULTS + 1], CoreSeenStage *seen)
{
  int first, last;
  double rows = 0;

  memset (p, 0, (CORE_MAX_MOULTS + 1) * sizeof *p);
  *seen = seen_in_words (text);
  if (!read_range (text, &first, &last))
    return false;
  for (int number = first; number <= last; number++)
    for (int hatchling = scheme == 0 ? 1 : scheme; hatchling <= (scheme == 0 ? 2 : scheme);
         hatchling++)
      {
        double row[CORE_MAX_MOULTS + 1];

        fold_spread (number > hatchling ? number - hatchling : 0, SIDE, row);
        for (int m = 0; m <= CORE_MAX_MOULTS; m++)
          p[m] += row[m];
        rows += 1;
      }
  for (int m = 0; m <= CORE_MAX_MOULTS; m++)
    p[m] /= rows;
  return true;
}
