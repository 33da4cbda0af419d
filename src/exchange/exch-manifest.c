/* SPDX-License-Identifier: GPL-3.0-or-later */
/* exch-manifest.c — see exch-manifest.h.
 *
 * Invariant: what is parsed holds no name that was not made from a hash and a
 * plain ending, no photo twice, no size below one.
 */
#include "exchange/exch-manifest.h"

#include <string.h>

#include "core/core-date.h"
#include "exchange/exch-json.h"

#define FORMAT "mantidary backup"
#define MAX_PHOTOS 4000000

static const char *const left_names[EXCH_N_LEFT] = { "missing", "changed", "kind" };

const char *
exch_left_name (ExchLeftWhy why)
{
  return left_names[why];
}

ExchManifest *
exch_manifest_new (void)
{
  ExchManifest *self = g_new0 (ExchManifest, 1);

  self->program = g_strdup (MANTIDARY_VERSION);
  self->made = CORE_DAY_NONE;
  self->positions = TRUE;
  self->inside = TRUE;
  self->photos = g_array_new (FALSE, FALSE, sizeof (ExchPhoto));
  self->left_out = g_array_new (FALSE, FALSE, sizeof (ExchPhoto));
  return self;
}

void
exch_manifest_free (ExchManifest *self)
{
  if (self == NULL)
    return;
  g_free (self->program);
  g_array_unref (self->photos);
  g_array_unref (self->left_out);
  g_free (self);
}

static int
compare_photos (gconstpointer a, gconstpointer b)
{
  return strcmp (((const ExchPhoto *) a)->hash, ((const ExchPhoto *) b)->hash);
}

void
exch_manifest_sort (ExchManifest *self)
{
  g_array_sort (self->photos, compare_photos);
  g_array_sort (self->left_out, compare_photos);
}

char *
exch_photo_name (const ExchPhoto *photo)
{
  return g_strdup_printf (EXCH_PHOTO_DIR "/%.2s/%s.%s", photo->hash, photo->hash, photo->format);
}

gint64
exch_manifest_total (const ExchManifest *self)
{
  gint64 total = self->database_bytes;

  for (guint i = 0; i < self->photos->len; i++)
    {
      gint64 bytes = g_array_index (self->photos, ExchPhoto, i).bytes;

      if (bytes > G_MAXINT64 - total)
        return -1;
      total += bytes;
    }
  return total;
}

const ExchPhoto *
exch_manifest_find (const GArray *photos, const char *hash)
{
  guint low = 0, high = photos->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      const ExchPhoto *photo = &g_array_index (photos, ExchPhoto, middle);
      int order = strcmp (hash, photo->hash);

      if (order == 0)
        return photo;
      if (order < 0)
        high = middle;
      else
        low = middle + 1;
    }
  return NULL;
}

/* ---- writing ---- */

static void
put_photos (GString *out, const char *key, const GArray *photos, gboolean why)
{
  g_string_append_printf (out, ",\n\"%s\": [", key);
  for (guint i = 0; i < photos->len; i++)
    {
      const ExchPhoto *photo = &g_array_index (photos, ExchPhoto, i);

      g_string_append_printf (out,
                              "%s\n{\"name\": \"" EXCH_PHOTO_DIR "/%.2s/%s.%s\", \"bytes\": "
                              "%" G_GINT64_FORMAT ", \"sha256\": \"%s\"",
                              i > 0 ? "," : "", photo->hash, photo->hash, photo->format,
                              photo->bytes, photo->hash);
      if (why)
        g_string_append_printf (out, ", \"why\": \"%s\"", left_names[photo->why]);
      g_string_append_c (out, '}');
    }
  g_string_append_c (out, ']');
}

char *
exch_manifest_to_text (const ExchManifest *self, gsize *n)
{
  GString *out = g_string_new ("{\"format\": \"" FORMAT "\", \"version\": ");
  char day[11];

  core_day_to_text (self->made, day);
  g_string_append_printf (out, "%d, \"program\": ", EXCH_MANIFEST_VERSION);
  exch_json_put_string (out, self->program);
  g_string_append_printf (out,
                          ", \"schema\": %d,\n\"made\": \"%s\", \"positions\": %s, \"photos\": "
                          "\"%s\",\n\"counts\": {\"entries\": %" G_GINT64_FORMAT
                          ", \"subjects\": %" G_GINT64_FORMAT ", \"photos\": %u},\n",
                          self->schema, day, self->positions ? "true" : "false",
                          self->inside ? "inside" : "beside", self->n_entries, self->n_subjects,
                          self->photos->len);
  g_string_append_printf (out,
                          "\"database\": {\"name\": \"" EXCH_DATABASE_NAME
                          "\", \"bytes\": %" G_GINT64_FORMAT ", \"sha256\": \"%s\"}",
                          self->database_bytes, self->database_hash);
  put_photos (out, "files", self->photos, FALSE);
  put_photos (out, "left_out", self->left_out, TRUE);
  g_string_append (out, "}\n");
  *n = out->len;
  return g_string_free (out, FALSE);
}

/* ---- reading ---- */

typedef struct
{
  ExchManifest *manifest;
  int max_schema;
  gboolean ours, too_new;
  gint64 n_photos; /* as counted by the file, -1 = not yet */
  gboolean has_place;
  /* Of the file just being read */
  ExchPhoto photo;
  char *name;
  GArray *into;
} Parse;

static gboolean
take_text (ExchJson *json, char *out, gsize size)
{
  g_autofree char *text = exch_json_string (json);

  return text != NULL && g_strlcpy (out, text, size) < size;
}

static gboolean
take_hash (ExchJson *json, char *out)
{
  return take_text (json, out, EXCH_HASH_LEN + 1) && exch_hash_is_plain (out);
}

static gboolean
file_member (ExchJson *json, const char *key, gpointer data)
{
  Parse *parse = data;

  if (strcmp (key, "name") == 0 && parse->name == NULL)
    return (parse->name = exch_json_string (json)) != NULL;
  if (strcmp (key, "bytes") == 0)
    return exch_json_int (json, G_MAXINT64, &parse->photo.bytes);
  if (strcmp (key, "sha256") == 0)
    return take_hash (json, parse->photo.hash);
  if (strcmp (key, "why") == 0)
    {
      g_autofree char *why = exch_json_string (json);

      for (int i = 0; why != NULL && i < EXCH_N_LEFT; i++)
        if (strcmp (why, left_names[i]) == 0)
          parse->photo.why = (ExchLeftWhy) i;
      return why != NULL;
    }
  return exch_json_skip (json);
}

static gboolean
take_file (ExchJson *json, Parse *parse)
{
  g_clear_pointer (&parse->name, g_free);
  parse->photo = (ExchPhoto){ .why = EXCH_LEFT_MISSING };
  return exch_json_object (json, file_member, parse) && parse->name != NULL &&
         parse->photo.bytes > 0 && parse->photo.hash[0] != '\0';
}

/* The name must be the one that is made from the hash: the ending is what is left of it. */
static gboolean
photo_item (ExchJson *json, const char *key, gpointer data)
{
  Parse *parse = data;
  g_autofree char *made = NULL;
  const char *dot;

  if (!take_file (json, parse) || parse->into->len >= MAX_PHOTOS)
    return FALSE;
  dot = strrchr (parse->name, '.');
  if (dot == NULL || !exch_format_is_plain (dot + 1))
    return FALSE;
  g_strlcpy (parse->photo.format, dot + 1, sizeof parse->photo.format);
  made = exch_photo_name (&parse->photo);
  if (strcmp (made, parse->name) != 0)
    return FALSE;
  if (parse->into->len > 0 &&
      strcmp (g_array_index (parse->into, ExchPhoto, parse->into->len - 1).hash,
              parse->photo.hash) >= 0)
    return FALSE;
  g_array_append_val (parse->into, parse->photo);
  return TRUE;
}

static gboolean
count_member (ExchJson *json, const char *key, gpointer data)
{
  Parse *parse = data;

  if (strcmp (key, "entries") == 0)
    return exch_json_int (json, G_MAXINT64, &parse->manifest->n_entries);
  if (strcmp (key, "subjects") == 0)
    return exch_json_int (json, G_MAXINT64, &parse->manifest->n_subjects);
  if (strcmp (key, "photos") == 0)
    return exch_json_int (json, MAX_PHOTOS, &parse->n_photos);
  return exch_json_skip (json);
}

static gboolean
take_database (ExchJson *json, Parse *parse)
{
  if (!take_file (json, parse) || strcmp (parse->name, EXCH_DATABASE_NAME) != 0)
    return FALSE;
  parse->manifest->database_bytes = parse->photo.bytes;
  memcpy (parse->manifest->database_hash, parse->photo.hash, sizeof parse->photo.hash);
  return TRUE;
}

static gboolean
take_made (ExchJson *json, ExchManifest *manifest)
{
  g_autofree char *day = exch_json_string (json);

  manifest->made = core_day_from_text (day);
  return manifest->made != CORE_DAY_NONE;
}

static gboolean
take_place (ExchJson *json, Parse *parse)
{
  g_autofree char *where = exch_json_string (json);

  parse->manifest->inside = g_strcmp0 (where, "inside") == 0;
  parse->has_place = parse->manifest->inside || g_strcmp0 (where, "beside") == 0;
  return parse->has_place;
}

static gboolean
take_photos (ExchJson *json, Parse *parse, GArray *into)
{
  if (into->len > 0)
    return FALSE;
  parse->into = into;
  return exch_json_array (json, photo_item, parse);
}

static gboolean
take_number (ExchJson *json, gint64 max, gboolean *beyond)
{
  gint64 value;

  if (!exch_json_int (json, G_MAXINT, &value) || value < 1)
    return FALSE;
  *beyond = *beyond || value > max;
  return TRUE;
}

static gboolean
take_format (ExchJson *json, Parse *parse)
{
  g_autofree char *format = exch_json_string (json);

  parse->ours = g_strcmp0 (format, FORMAT) == 0;
  return parse->ours;
}

static gboolean
take_schema (ExchJson *json, Parse *parse)
{
  gint64 schema;

  if (!exch_json_int (json, G_MAXINT, &schema) || schema < 1)
    return FALSE;
  parse->manifest->schema = (int) schema;
  parse->too_new = parse->too_new || schema > parse->max_schema;
  return TRUE;
}

static gboolean
take_program (ExchJson *json, ExchManifest *manifest)
{
  g_free (manifest->program);
  manifest->program = exch_json_string (json);
  return manifest->program != NULL && strlen (manifest->program) < 64;
}

/* What a later version adds may be of any form: its other members are not looked at. */
static gboolean
member (ExchJson *json, const char *key, gpointer data)
{
  Parse *parse = data;
  ExchManifest *manifest = parse->manifest;

  if (strcmp (key, "format") == 0)
    return take_format (json, parse);
  if (!parse->ours)
    return FALSE;
  if (strcmp (key, "version") == 0)
    return take_number (json, EXCH_MANIFEST_VERSION, &parse->too_new);
  if (parse->too_new)
    return exch_json_skip (json);
  if (strcmp (key, "program") == 0)
    return take_program (json, manifest);
  if (strcmp (key, "schema") == 0)
    return take_schema (json, parse);
  if (strcmp (key, "made") == 0)
    return take_made (json, manifest);
  if (strcmp (key, "positions") == 0)
    return exch_json_bool (json, &manifest->positions);
  if (strcmp (key, "photos") == 0)
    return take_place (json, parse);
  if (strcmp (key, "counts") == 0)
    return exch_json_object (json, count_member, parse);
  if (strcmp (key, "database") == 0)
    return take_database (json, parse);
  if (strcmp (key, "files") == 0)
    return take_photos (json, parse, manifest->photos);
  if (strcmp (key, "left_out") == 0)
    return take_photos (json, parse, manifest->left_out);
  return exch_json_skip (json);
}

static gboolean
is_whole (const Parse *parse)
{
  const ExchManifest *manifest = parse->manifest;

  return manifest->program != NULL && manifest->schema > 0 && manifest->made != CORE_DAY_NONE &&
         parse->has_place && manifest->database_bytes > 0 &&
         parse->n_photos == (gint64) manifest->photos->len;
}

ExchManifest *
exch_manifest_parse (const char *text, gsize n, int max_schema, const char *path, GError **error)
{
  g_autoptr (ExchManifest) manifest = exch_manifest_new ();
  Parse parse = { .manifest = manifest, .max_schema = max_schema, .n_photos = -1 };
  ExchJson json;
  gboolean read;

  exch_json_init (&json, text, n);
  read = exch_json_object (&json, member, &parse) && exch_json_at_end (&json);
  g_free (parse.name);
  if (parse.ours && parse.too_new)
    exch_set_error (error, EXCH_ERROR_TOO_NEW, path);
  else if (!parse.ours)
    exch_set_error (error, EXCH_ERROR_NO_BACKUP, path);
  else if (!read || !is_whole (&parse))
    exch_set_error (error, EXCH_ERROR_DAMAGED, path);
  else
    return g_steal_pointer (&manifest);
  return NULL;
}
