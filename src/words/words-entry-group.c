/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-entry-group.c — the groups in which a timeline is filtered. */
#include "words/words-private.h"

WordsGroup
words_entry_group_of (CoreKind kind)
{
  switch ((int) kind)
    {
    case CORE_KIND_FED:
    case CORE_KIND_GONE:
    case CORE_KIND_DRANK:
    case CORE_KIND_BELLY:
      return WORDS_GROUP_MEALS;
    case CORE_KIND_HATCHED:
    case CORE_KIND_MOULTED:
    case CORE_KIND_STAGE:
    case CORE_KIND_SIGN:
    case CORE_KIND_MEASURED:
    case CORE_KIND_LAID:
    case CORE_KIND_HARDENED:
    case CORE_KIND_HATCHING:
      return WORDS_GROUP_GROWTH;
    case CORE_KIND_PHOTO:
    case CORE_KIND_MARKED:
    case CORE_KIND_SEXED:
      return WORDS_GROUP_SEX;
    case CORE_KIND_LOOKED:
    case CORE_KIND_MISTED:
    case CORE_KIND_WATERED:
    case CORE_KIND_CLEANED:
    case CORE_KIND_TROUBLE:
    case CORE_KIND_LOOKS_DEAD:
    case CORE_KIND_DONE:
    case CORE_KIND_PUT_OFF:
    case CORE_KIND_READING:
    case CORE_KIND_LOGGED:
    case CORE_KIND_POWER:
      return WORDS_GROUP_CARE;
    default:
      return WORDS_GROUP_FACTS;
    }
}

const char *
words_entry_group (WordsLang lang, WordsGroup group)
{
  static const WordsTerm table[] = {
    [WORDS_GROUP_MEALS] = TERM ("entry group", "Meals"),
    [WORDS_GROUP_GROWTH] = TERM ("entry group", "Moults and stages"),
    [WORDS_GROUP_SEX] = TERM ("entry group", "Sex and photos"),
    [WORDS_GROUP_CARE] = TERM ("entry group", "Care"),
    [WORDS_GROUP_FACTS] = TERM ("entry group", "Moves and facts"),
    [WORDS_GROUP_CORRECTIONS] = TERM ("entry group", "Corrections"),
  };
  G_STATIC_ASSERT (G_N_ELEMENTS (table) == WORDS_N_GROUPS);

  return words_term (lang, table, G_N_ELEMENTS (table), (int) group);
}

char *
words_entries_shown (WordsLang lang, guint shown, guint all)
{
  if (shown == all)
    return g_strdup_printf (TN_ (lang, "entry group", "%u entry", "%u entries", all), all);
  /* Translators: how many are shown, and how many there are: "6 of 57 entries" */
  return g_strdup_printf (TN_ (lang, "entry group", "%u of %u entry", "%u of %u entries", all), shown,
                          all);
}
