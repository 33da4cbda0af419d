/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-error.c — the words of an error: by its domain and code where words has a
 * sentence, else what the domain itself said. */
#include "app/app-pages.h"
#include "desk/desk-backup.h"
#include "imaging/img-decode.h"
#include "store/store.h"
#include "words/words.h"

char *
app_error_text (const GError *error)
{
  return app_error_text_of (error, NULL);
}

char *
app_error_text_of (const GError *error, const char *what)
{
  if (error->domain == STORE_ERROR)
    return words_store_error (WORDS_LOCAL, error->code, what);
  if (desk_backup_error (error) >= 0)
    return words_backup_error (WORDS_LOCAL, desk_backup_error (error), what);
  if (error->domain == IMG_ERROR)
    return words_image_error (WORDS_LOCAL, error->code, what);
  return g_strdup (error->message);
}
