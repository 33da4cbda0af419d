/* SPDX-License-Identifier: GPL-3.0-or-later */
/* style-draw.c — puts a picture of a style together. */
#include "style-private.h"

/* Pictures without a count: a thing, a body without sutures, or a worm of too many rings. */
static gboolean
choose_empty (Stage *stage)
{
  static const double weights[3] = { 7, 2, 2 };

  switch (demo_rand_pick (&stage->rand, weights, 3))
    {
    case 0:
      return FALSE;
    case 1:
      stage->count = 1;
      stage->edge[1] = 1.0;
      return TRUE;
    default:
      stage->count = demo_rand_int (&stage->rand, 13, STAGE_PLATES);
      for (int i = 0; i <= stage->count; i++)
        stage->edge[i] = (double) i / stage->count;
      return TRUE;
    }
}

DemoDrawing *
style_draw (Style style, const StyleOptions *options)
{
  static void (*const skins[]) (Stage *, Skin *) = { style_relief_skin, style_pen_skin,
                                                             style_signal_skin };
  Stage stage;
  DemoDrawing *out;

  stage_init (&stage, options);
  if (style == STYLE_PRINT)
    {
      style_print_picture (&stage, options->empty && !choose_empty (&stage));
      out = stage_develop (&stage, options);
      demo_canvas_free (stage.canvas);
      return out;
    }
  stage_ground (&stage);
  if (options->empty && !choose_empty (&stage))
    stage_thing (&stage);
  else
    {
      g_autoptr (Skin) skin = skin_new (&stage);

      stage_limbs (&stage);
      skins[style](&stage, skin);
      stage_skin (&stage, skin);
    }
  stage_mishaps (&stage);
  out = stage_develop (&stage, options);
  demo_canvas_free (stage.canvas);
  return out;
}
