/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-tiles.c — see app-tiles.h.
 *
 * Invariant: `pieces` belongs to the main thread; `wanted`, `making` and `made` to whoever holds
 * the lock. The worker runs only while something is wanted. */
#include "app/app-tiles.h"

#include <math.h>

typedef struct
{
  gint64 key;
  cairo_surface_t *surface;
  gsize bytes;
  guint64 frame; /* in which it was drawn last */
} Piece;

struct _AppTiles
{
  gatomicrefcount refs;
  ImgPyramid *pyramid; /* owned; never changes */

  /* Main thread */
  GHashTable *pieces; /* key → Piece */
  gsize bytes;
  guint64 frame;
  void (*ready) (gpointer);
  gpointer data;

  GMutex lock;
  GArray *wanted;  /* ImgTile, the first comes first */
  GPtrArray *made; /* Piece, on their way to the main thread */
  gint64 making;   /* key; -1 = none */
  gboolean busy, told, ended;
};

static gint64
key_of (ImgTile tile)
{
  return (gint64) tile.level << 48 | (gint64) tile.column << 24 | tile.row;
}

static void
piece_free (gpointer data)
{
  Piece *piece = data;

  cairo_surface_destroy (piece->surface);
  g_free (piece);
}

static void
unref (AppTiles *self)
{
  if (!g_atomic_ref_count_dec (&self->refs))
    return;
  g_hash_table_unref (self->pieces);
  g_array_unref (self->wanted);
  g_ptr_array_unref (self->made);
  img_pyramid_free (self->pyramid);
  g_mutex_clear (&self->lock);
  g_free (self);
}

/* ---- making ---- */

/* NULL: there is no memory for it, and a coarser one stays. */
static Piece *
piece_new (const ImgPyramid *pyramid, ImgTile tile)
{
  ImgTileArea area;
  cairo_surface_t *surface;
  Piece *piece;

  if (!img_tile_area (pyramid, tile, &area))
    return NULL;
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, area.width + 2 * IMG_TILE_RIM,
                                        area.height + 2 * IMG_TILE_RIM);
  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS)
    {
      cairo_surface_destroy (surface);
      return NULL;
    }
  img_tile_fill (pyramid, tile, cairo_image_surface_get_data (surface),
                 (gsize) cairo_image_surface_get_stride (surface));
  cairo_surface_mark_dirty (surface);
  piece = g_new0 (Piece, 1);
  piece->key = key_of (tile);
  piece->surface = surface;
  piece->bytes = (gsize) cairo_image_surface_get_stride (surface) *
                 (gsize) cairo_image_surface_get_height (surface);
  return piece;
}

static void
take (AppTiles *self, Piece *piece)
{
  self->bytes += piece->bytes;
  g_hash_table_replace (self->pieces, &piece->key, piece);
}

/* The coarsest level stays: all else can be drawn from it. */
static gboolean
is_base (AppTiles *self, const Piece *piece)
{
  return piece->key >> 48 == self->pyramid->n_levels - 1;
}

/* Down to the bound; what the last frame drew stays. */
static void
let_go (AppTiles *self)
{
  while (self->bytes > APP_TILES_BYTES)
    {
      Piece *oldest = NULL;
      GHashTableIter iter;
      gpointer value;

      g_hash_table_iter_init (&iter, self->pieces);
      while (g_hash_table_iter_next (&iter, NULL, &value))
        {
          Piece *piece = value;

          if (!is_base (self, piece) && piece->frame < self->frame &&
              (oldest == NULL || piece->frame < oldest->frame))
            oldest = piece;
        }
      if (oldest == NULL)
        return;
      self->bytes -= oldest->bytes;
      g_hash_table_remove (self->pieces, &oldest->key);
    }
}

static gboolean
arrived_cb (gpointer data)
{
  AppTiles *self = data;
  g_autoptr (GPtrArray) made = NULL;

  g_mutex_lock (&self->lock);
  made = g_steal_pointer (&self->made);
  self->made = g_ptr_array_new_with_free_func (piece_free);
  self->told = FALSE;
  g_mutex_unlock (&self->lock);
  if (self->ended)
    return G_SOURCE_REMOVE;
  for (guint i = 0; i < made->len; i++)
    {
      Piece *piece = made->pdata[i];

      piece->frame = self->frame; /* it was wanted: not the first to go */
      if (!g_hash_table_contains (self->pieces, &piece->key))
        take (self, g_steal_pointer (&made->pdata[i]));
    }
  g_ptr_array_set_free_func (made, NULL);
  for (guint i = 0; i < made->len; i++)
    g_clear_pointer (&made->pdata[i], piece_free);
  let_go (self);
  if (self->ready != NULL)
    self->ready (self->data);
  return G_SOURCE_REMOVE;
}

static gboolean
next_wanted (AppTiles *self, ImgTile *tile)
{
  gboolean any;

  g_mutex_lock (&self->lock);
  any = !self->ended && self->wanted->len > 0;
  if (any)
    {
      *tile = g_array_index (self->wanted, ImgTile, 0);
      g_array_remove_index (self->wanted, 0);
      self->making = key_of (*tile);
    }
  else
    self->busy = FALSE;
  g_mutex_unlock (&self->lock);
  return any;
}

static void
hand_over (AppTiles *self, Piece *piece)
{
  g_mutex_lock (&self->lock);
  self->making = -1;
  if (piece != NULL)
    g_ptr_array_add (self->made, piece);
  if (piece != NULL && !self->told)
    {
      self->told = TRUE;
      g_atomic_ref_count_inc (&self->refs);
      g_idle_add_full (G_PRIORITY_DEFAULT, arrived_cb, self, (GDestroyNotify) unref);
    }
  g_mutex_unlock (&self->lock);
}

static void
work (gpointer data, gpointer unused)
{
  AppTiles *self = data;
  ImgTile tile;

  while (next_wanted (self, &tile))
    hand_over (self, piece_new (self->pyramid, tile));
  unref (self);
}

/* One thread: a second would only take turns with it on the memory. */
static GThreadPool *
pool (void)
{
  static gsize once = 0;

  if (g_once_init_enter (&once))
    g_once_init_leave (&once, (gsize) g_thread_pool_new (work, NULL, 1, FALSE, NULL));
  return (GThreadPool *) once;
}

AppTiles *
app_tiles_new (ImgPyramid *pyramid)
{
  AppTiles *self = g_new0 (AppTiles, 1);
  ImgTile tile = { .level = pyramid->n_levels - 1 };
  ImgTileArea area;

  g_atomic_ref_count_init (&self->refs);
  g_mutex_init (&self->lock);
  self->pyramid = pyramid;
  self->pieces = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, piece_free);
  self->wanted = g_array_new (FALSE, FALSE, sizeof (ImgTile));
  self->made = g_ptr_array_new_with_free_func (piece_free);
  self->making = -1;
  for (; img_tile_area (pyramid, tile, &area); tile.row++, tile.column = 0)
    for (; img_tile_area (pyramid, tile, &area); tile.column++)
      {
        Piece *piece = piece_new (pyramid, tile);

        if (piece != NULL)
          take (self, piece);
      }
  return self;
}

void
app_tiles_watch (AppTiles *self, void (*ready) (gpointer), gpointer data)
{
  self->ready = ready;
  self->data = data;
}

void
app_tiles_end (AppTiles *self)
{
  g_mutex_lock (&self->lock);
  self->ended = TRUE;
  g_mutex_unlock (&self->lock);
  self->ready = NULL;
  unref (self);
}

/* ---- drawing ---- */

void
app_tiles_frame (AppTiles *self)
{
  self->frame++;
  g_mutex_lock (&self->lock);
  g_array_set_size (self->wanted, 0);
  g_mutex_unlock (&self->lock);
}

/* With the lock. */
static gboolean
is_coming (AppTiles *self, gint64 key)
{
  if (self->making == key)
    return TRUE;
  for (guint i = 0; i < self->made->len; i++)
    if (((const Piece *) self->made->pdata[i])->key == key)
      return TRUE;
  for (guint i = 0; i < self->wanted->len; i++)
    if (key_of (g_array_index (self->wanted, ImgTile, i)) == key)
      return TRUE;
  return FALSE;
}

typedef struct
{
  ImgTile tile;
  double far; /* from the middle of the view */
} Missing;

static int
compare_far (gconstpointer a, gconstpointer b)
{
  const Missing *x = a, *y = b;

  return x->far < y->far ? -1 : x->far > y->far;
}

static void
want (AppTiles *self, GArray *missing)
{
  gboolean start;

  g_array_sort (missing, compare_far);
  g_mutex_lock (&self->lock);
  for (guint i = 0; i < missing->len; i++)
    {
      ImgTile tile = g_array_index (missing, Missing, i).tile;

      if (!is_coming (self, key_of (tile)))
        g_array_append_val (self->wanted, tile);
    }
  start = self->wanted->len > 0 && !self->busy;
  self->busy = self->busy || start;
  g_mutex_unlock (&self->lock);
  if (!start)
    return;
  g_atomic_ref_count_inc (&self->refs);
  g_thread_pool_push (pool (), self, NULL); /* without a thread it waits for one */
}

/* The tile itself, else the nearest that is coarser. */
static Piece *
find_piece (AppTiles *self, ImgTile *tile)
{
  for (; tile->level < self->pyramid->n_levels; tile->level++, tile->column /= 2, tile->row /= 2)
    {
      gint64 key = key_of (*tile);
      Piece *piece = g_hash_table_lookup (self->pieces, &key);

      if (piece != NULL)
        return piece;
    }
  return NULL;
}

/* What is drawn: where, at which size, through which filter. */
typedef struct
{
  cairo_t *cr;
  double ix, iy, zoom;
  int scale;
  cairo_filter_t filter;
} Drawing;

/* To a whole device pixel: two tiles share the edge. */
static double
snap (const Drawing *drawing, double at)
{
  return round (at * drawing->scale) / drawing->scale;
}

static void
draw_piece (AppTiles *self, const Drawing *drawing, Piece *piece, ImgTile from, const ImgTileArea *area, int factor)
{
  double x0 = snap (drawing, (area->x * (double) factor - drawing->ix) * drawing->zoom);
  double y0 = snap (drawing, (area->y * (double) factor - drawing->iy) * drawing->zoom);
  double x1 = snap (drawing, ((area->x + area->width) * (double) factor - drawing->ix) * drawing->zoom);
  double y1 = snap (drawing, ((area->y + area->height) * (double) factor - drawing->iy) * drawing->zoom);
  double per_unit = 1 / (drawing->zoom * (1 << from.level)); /* pixels of the piece */
  cairo_pattern_t *pattern = cairo_pattern_create_for_surface (piece->surface);
  cairo_matrix_t matrix;

  cairo_matrix_init (&matrix, per_unit, 0, 0, per_unit,
                     drawing->ix / (1 << from.level) - from.column * (double) IMG_TILE_SIDE + IMG_TILE_RIM,
                     drawing->iy / (1 << from.level) - from.row * (double) IMG_TILE_SIDE + IMG_TILE_RIM);
  cairo_pattern_set_matrix (pattern, &matrix);
  cairo_pattern_set_filter (pattern, drawing->filter);
  cairo_pattern_set_extend (pattern, CAIRO_EXTEND_PAD);
  cairo_set_source (drawing->cr, pattern);
  cairo_rectangle (drawing->cr, x0, y0, x1 - x0, y1 - y0);
  cairo_fill (drawing->cr);
  cairo_pattern_destroy (pattern);
  piece->frame = self->frame;
}

static void
draw_tile (AppTiles *self, const Drawing *drawing, ImgTile tile, double far, GArray *missing)
{
  ImgTileArea area;
  ImgTile from = tile;
  Piece *piece;

  if (!img_tile_area (self->pyramid, tile, &area))
    return;
  piece = find_piece (self, &from);
  if (from.level != tile.level)
    {
      Missing one = { tile, far };

      g_array_append_val (missing, one);
    }
  if (piece != NULL)
    draw_piece (self, drawing, piece, from, &area, 1 << tile.level);
}

void
app_tiles_draw (AppTiles *self,
                cairo_t *cr,
                double ix,
                double iy,
                double zoom,
                int scale,
                cairo_filter_t filter)
{
  Drawing drawing = { cr, ix, iy, zoom, scale, filter };
  g_autoptr (GArray) missing = g_array_new (FALSE, FALSE, sizeof (Missing));
  ImgTile tile = { .level = img_pyramid_level_for_zoom (self->pyramid, zoom * scale) };
  const ImgPixels *level = self->pyramid->levels[tile.level];
  double side = IMG_TILE_SIDE * (double) (1 << tile.level), x0, y0, x1, y1, middle_x, middle_y;
  int last_column = (level->width - 1) / IMG_TILE_SIDE, last_row = (level->height - 1) / IMG_TILE_SIDE;

  cairo_clip_extents (cr, &x0, &y0, &x1, &y1);
  if (x1 <= x0 || y1 <= y0)
    return;
  x0 = (x0 / zoom + ix) / side;
  y0 = (y0 / zoom + iy) / side;
  x1 = (x1 / zoom + ix) / side;
  y1 = (y1 / zoom + iy) / side;
  middle_x = (x0 + x1) / 2 - .5;
  middle_y = (y0 + y1) / 2 - .5;
  cairo_save (cr);
  cairo_set_antialias (cr, CAIRO_ANTIALIAS_NONE);
  for (tile.row = MAX (0, (int) floor (y0)); tile.row <= MIN (last_row, (int) floor (y1)); tile.row++)
    for (tile.column = MAX (0, (int) floor (x0)); tile.column <= MIN (last_column, (int) floor (x1)); tile.column++)
      draw_tile (self, &drawing, tile, hypot (tile.column - middle_x, tile.row - middle_y), missing);
  cairo_restore (cr);
  want (self, missing);
}

gsize
app_tiles_bytes (AppTiles *self)
{
  return self->bytes;
}

gboolean
app_tiles_waiting (AppTiles *self)
{
  gboolean waiting;

  g_mutex_lock (&self->lock);
  waiting = self->busy || self->made->len > 0;
  g_mutex_unlock (&self->lock);
  return waiting;
}
