/* SPDX-License-Identifier: GPL-3.0-or-later */
/* words-tr.h — translating with a context, also plurals, in either language.
 *
 * T_ and TN_ are known to xgettext (po/meson.build, po/update.sh). Give numbers
 * with %d or %u: a format made of macros ("%" G_GSIZE_FORMAT) cannot be gathered.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  WORDS_LOCAL,
  WORDS_ENGLISH
} WordsLang;

const char *words_tr (WordsLang lang, const char *context, const char *text) G_GNUC_FORMAT (3);
const char *
words_trn (WordsLang lang, const char *context, const char *one, const char *many, gulong n)
  G_GNUC_FORMAT (3) G_GNUC_FORMAT (4);

#define T_(lang, context, text) words_tr (lang, context, text)
#define TN_(lang, context, one, many, n) words_trn (lang, context, one, many, n)

G_END_DECLS
