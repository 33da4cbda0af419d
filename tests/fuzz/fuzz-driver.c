/* SPDX-License-Identifier: GPL-3.0-or-later */
/* fuzz-driver.c — see fuzz-driver.h. Compiled without coverage. */
#include "fuzz-driver.h"

#include <glib.h>
#include <stdlib.h>
#include <string.h>

#define EDGES 65536

typedef struct
{
  GBytes *bytes;
  uint32_t salt;
  char *line; /* as it stands in the file, NULL = found in this run */
} Input;

typedef struct
{
  const FuzzTarget *target;
  FuzzRand rand;
  GPtrArray *corpus; /* Input */
  uint8_t seen[EDGES];
  guint edges;
} Fuzzer;

static uint8_t taken[EDGES];
static uintptr_t previous;

void __sanitizer_cov_trace_pc (void);

void
__sanitizer_cov_trace_pc (void)
{
  uintptr_t here = (uintptr_t) __builtin_return_address (0);
  uintptr_t edge = (here ^ (previous >> 1)) % EDGES;

  previous = here;
  if (taken[edge] < 255)
    taken[edge]++;
}

uint64_t
fuzz_next (FuzzRand *self)
{
  self->state ^= self->state << 13;
  self->state ^= self->state >> 7;
  self->state ^= self->state << 17;
  return self->state * 0x2545f4914f6cdd1d;
}

size_t
fuzz_below (FuzzRand *self, size_t n)
{
  return n == 0 ? 0 : (size_t) ((fuzz_next (self) >> 16) % n);
}

/* How often an edge was taken counts in steps: once, twice, a few, many. */
static uint8_t
step (uint8_t times)
{
  return times == 0 ? 0 : times == 1 ? 1 : times == 2 ? 2 : times < 8 ? 4 : times < 32 ? 8 : 16;
}

/* Runs one input; did it reach anything new? */
static gboolean
run (Fuzzer *self, const uint8_t *data, size_t length, uint32_t salt)
{
  gboolean new = FALSE;

  memset (taken, 0, sizeof taken);
  previous = 0;
  self->target->run (data != NULL ? data : (const uint8_t *) "", length, salt);
  for (guint i = 0; i < EDGES; i++)
    {
      uint8_t now = step (taken[i]);

      if ((now & ~self->seen[i]) == 0)
        continue;
      self->edges += self->seen[i] == 0 ? 1 : 0;
      self->seen[i] |= now;
      new = TRUE;
    }
  return new;
}

/* ---- mutations ---- */

static void
insert_scrap (Fuzzer *self, GByteArray *out, size_t at)
{
  g_autoptr (GByteArray) tail = g_byte_array_new ();
  size_t n = 0;
  const char *scrap;

  while (self->target->scraps[n] != NULL)
    n++;
  scrap = self->target->scraps[fuzz_below (&self->rand, n)];
  g_byte_array_append (tail, out->data + at, (guint) (out->len - at));
  g_byte_array_set_size (out, (guint) at);
  g_byte_array_append (out, (const guint8 *) scrap, (guint) strlen (scrap));
  g_byte_array_append (out, tail->data, tail->len);
}

static void
splice (Fuzzer *self, GByteArray *out)
{
  Input *other = g_ptr_array_index (self->corpus, fuzz_below (&self->rand, self->corpus->len));
  gsize length;
  const guint8 *data = g_bytes_get_data (other->bytes, &length);
  size_t from = fuzz_below (&self->rand, length);

  g_byte_array_set_size (out, (guint) fuzz_below (&self->rand, out->len + 1));
  g_byte_array_append (out, data + from, (guint) (length - from));
}

static void
repeat (Fuzzer *self, GByteArray *out)
{
  size_t from = fuzz_below (&self->rand, out->len);
  size_t length = 1 + fuzz_below (&self->rand, out->len - from);
  size_t times = 1 + fuzz_below (&self->rand, 8);
  g_autofree guint8 *piece = g_memdup2 (out->data + from, length);

  while (times-- > 0 && out->len < self->target->max_bytes)
    g_byte_array_append (out, piece, (guint) length);
}

static void
mutate_once (Fuzzer *self, GByteArray *out)
{
  size_t at = fuzz_below (&self->rand, out->len);
  guint8 byte = (guint8) fuzz_next (&self->rand);

  switch (out->len == 0 ? 6 : fuzz_below (&self->rand, 9))
    {
    case 0:
      out->data[at] = byte;
      break;
    case 1:
      out->data[at] ^= (guint8) (1u << (byte & 7));
      break;
    case 2:
      g_byte_array_remove_range (out, (guint) at, (guint) (1 + fuzz_below (&self->rand, MIN (out->len - at, 12))));
      break;
    case 3:
      splice (self, out);
      break;
    case 4:
      repeat (self, out);
      break;
    case 5:
      g_byte_array_append (out, &byte, 1);
      break;
    default:
      insert_scrap (self, out, at);
      break;
    }
}

static void
mutate (Fuzzer *self, GByteArray *out)
{
  for (size_t i = 1 + fuzz_below (&self->rand, 5); i > 0; i--)
    mutate_once (self, out);
  if (out->len > self->target->max_bytes)
    g_byte_array_set_size (out, (guint) self->target->max_bytes);
}

/* ---- corpus ---- */

static void
input_free (gpointer data)
{
  Input *input = data;

  g_bytes_unref (input->bytes);
  g_free (input->line);
  g_free (input);
}

static void
keep (Fuzzer *self, const uint8_t *data, size_t length, uint32_t salt, const char *line)
{
  Input *input = g_new0 (Input, 1);

  *input = (Input){ g_bytes_new (data, length), salt, g_strdup (line) };
  g_ptr_array_add (self->corpus, input);
}

/* SALT TAB text, escaped; empty lines and those with '#' are passed over. */
static void
read_corpus (Fuzzer *self, const char *path)
{
  g_autofree char *text = NULL;
  g_auto (GStrv) lines = NULL;
  g_autoptr (GError) error = NULL;

  if (!g_file_get_contents (path, &text, NULL, &error))
    g_error ("%s", error->message);
  lines = g_strsplit (text, "\n", -1);
  for (guint i = 0; lines[i] != NULL; i++)
    {
      const char *tab = strchr (lines[i], '\t');
      g_autofree char *plain = tab != NULL ? g_strcompress (tab + 1) : NULL;

      if (plain != NULL && lines[i][0] != '#')
        keep (self, (const uint8_t *) plain, strlen (plain), (uint32_t) g_ascii_strtoull (lines[i], NULL, 10), lines[i]);
    }
}

static void
write_corpus (Fuzzer *self, const char *path)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < self->corpus->len; i++)
    {
      Input *input = g_ptr_array_index (self->corpus, i);
      gsize length;
      const char *data = g_bytes_get_data (input->bytes, &length);
      g_autofree char *plain = g_strndup (data, length);
      g_autofree char *escaped = g_strescape (plain, NULL);

      if (input->line != NULL)
        g_string_append_printf (text, "%s\n", input->line);
      else
        g_string_append_printf (text, "%u\t%s\n", input->salt, escaped);
    }
  if (!g_file_set_contents (path, text->str, (gssize) text->len, &error))
    g_error ("%s", error->message);
}

/* ---- the loop ---- */

static guint64
fuzz (Fuzzer *self, double seconds, guint64 runs)
{
  gint64 until = g_get_monotonic_time () + (gint64) (seconds * 1e6);
  guint64 n = 0;

  while (runs > 0 ? n < runs : g_get_monotonic_time () < until)
    {
      Input *from = g_ptr_array_index (self->corpus, fuzz_below (&self->rand, self->corpus->len));
      g_autoptr (GByteArray) out = g_byte_array_new ();
      uint32_t salt = fuzz_below (&self->rand, 4) == 0 ? (uint32_t) fuzz_below (&self->rand, 256) : from->salt;
      gsize length;
      const guint8 *data = g_bytes_get_data (from->bytes, &length);

      g_byte_array_append (out, data, (guint) length);
      mutate (self, out);
      if (run (self, out->data, out->len, salt))
        keep (self, out->data, out->len, salt, NULL);
      n++;
    }
  return n;
}

int
fuzz_main (int argc, char *argv[], const FuzzTarget *target)
{
  double seconds = 3;
  gint64 runs = 0, seed = 1;
  g_autofree char *corpus = NULL;
  g_autofree char *grow = NULL;
  const GOptionEntry options[] = { { "seconds", 0, 0, G_OPTION_ARG_DOUBLE, &seconds, NULL, NULL },
                                   { "runs", 0, 0, G_OPTION_ARG_INT64, &runs, NULL, NULL },
                                   { "seed", 0, 0, G_OPTION_ARG_INT64, &seed, NULL, NULL },
                                   { "corpus", 0, 0, G_OPTION_ARG_FILENAME, &corpus, NULL, NULL },
                                   { "grow", 0, 0, G_OPTION_ARG_FILENAME, &grow, NULL, NULL },
                                   { NULL } };
  g_autoptr (GOptionContext) context = g_option_context_new (NULL);
  g_autoptr (GError) error = NULL;
  g_autofree Fuzzer *self = g_new0 (Fuzzer, 1);
  guint from_file;
  guint64 n;

  g_option_context_add_main_entries (context, options, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || corpus == NULL)
    {
      g_printerr ("%s\n", error != NULL ? error->message : "--corpus FILE is needed");
      return 2;
    }
  self->target = target;
  self->rand.state = (uint64_t) seed * 0x9e3779b97f4a7c15 + 1;
  self->corpus = g_ptr_array_new_with_free_func (input_free);
  read_corpus (self, corpus);
  from_file = self->corpus->len;
  g_assert_cmpuint (from_file, >, 0);
  for (guint i = 0; i < from_file; i++)
    {
      Input *input = g_ptr_array_index (self->corpus, i);
      gsize length;
      const guint8 *data = g_bytes_get_data (input->bytes, &length);

      (void) run (self, data, length, input->salt);
    }
  n = fuzz (self, seconds, (guint64) runs);
  g_print ("1..1\nok 1 - %u inputs of the corpus and %" G_GUINT64_FORMAT " mutations, seed %" G_GINT64_FORMAT
           ", %u edges, %u inputs that reached new code\n",
           from_file, n, seed, self->edges, self->corpus->len - from_file);
  /* A target whose code is not counted would find nothing and say that all is well. */
  g_assert_cmpuint (self->edges, >, 50);
  if (grow != NULL)
    write_corpus (self, grow);
  g_ptr_array_unref (self->corpus);
  return 0;
}
