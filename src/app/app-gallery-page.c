/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-gallery-page.c — see app-gallery-page.h.
 *
 * Arrow keys go from picture to picture, Return opens one large among those that are shown. What is
 * not seen yet is read only when somebody asks for more. */
#include "app/app-gallery-page.h"

#include <glib/gi18n.h>

#include "app/app-drop-down.h"
#include "app/app-growth.h"
#include "app/app-thumb.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "app/app-wrap.h"
#include "desk/desk-gallery.h"
#include "words/words-tr.h"

#define WIDTH 160 /* of the room for a picture: 4 to 3 */
#define HEIGHT 120
#define LETTERS 20 /* of a line below it */
#define FIRST 48 /* pictures */

typedef enum
{
  KIND_UNDERSIDE,
  KIND_BACK,
  KIND_SIDE,
  KIND_SHED,
  KIND_UNSAID,
  N_KINDS
} Kind;

struct _AppGalleryPage
{
  AppDeskPage parent_instance;

  /* Template children, borrowed */
  GtkWidget *scroller;
  GtkLabel *title;
  GtkWidget *all;
  GtkLabel *under;
  GtkWidget *filter;
  AppWrap *kinds;
  GtkDropDown *stages;
  GtkWidget *growth_box;
  AppGrowth *growth;
  GtkLabel *growth_note;
  GtkLabel *none;
  GtkBox *groups;
  GtkWidget *more;
  GtkToggleButton *buttons[N_KINDS];

  /* Owned */
  GArray *pictures; /* DeskPicture */
  GArray *shown;    /* guint: indexes of those that the filter lets through */
  GArray *of_stage; /* int: what the rows of `stages` mean, from the second on */

  CoreId animal; /* none = all */
  guint limit;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (AppGalleryPage, app_gallery_page, APP_TYPE_DESK_PAGE)

static void show_groups (AppGalleryPage *self);

static const DeskPicture *
nth (AppGalleryPage *self, guint i)
{
  return &g_array_index (self->pictures, DeskPicture, i);
}

/* ---- the filter ---- */

static Kind
kind_of (const DeskPicture *picture)
{
  if (picture->shows.of == CORE_OF_SHED)
    return KIND_SHED;
  switch (picture->shows.side)
    {
    case CORE_SIDE_UNDERSIDE: return KIND_UNDERSIDE;
    case CORE_SIDE_BACK: return KIND_BACK;
    case CORE_SIDE_FLANK: return KIND_SIDE;
    default: return KIND_UNSAID;
    }
}

static const char *
kind_name (Kind kind)
{
  switch (kind)
    {
    case KIND_UNDERSIDE: return C_ ("gallery", "Underside");
    case KIND_BACK: return C_ ("gallery", "Back");
    case KIND_SIDE: return C_ ("gallery", "Side view");
    case KIND_SHED: return C_ ("gallery", "Shed skin");
    case KIND_UNSAID:
    case N_KINDS:
    default: return C_ ("gallery", "Not said yet");
    }
}

static gboolean
any_kind_chosen (AppGalleryPage *self)
{
  for (int kind = 0; kind < N_KINDS; kind++)
    if (gtk_toggle_button_get_active (self->buttons[kind]))
      return TRUE;
  return FALSE;
}

static gboolean
is_chosen (AppGalleryPage *self, const DeskPicture *picture)
{
  guint row = gtk_drop_down_get_selected (self->stages);

  if (row > 0 && row <= self->of_stage->len && desk_picture_stage (picture) != g_array_index (self->of_stage, int, row - 1))
    return FALSE;
  return !any_kind_chosen (self) || gtk_toggle_button_get_active (self->buttons[kind_of (picture)]);
}

static void
count_kinds (AppGalleryPage *self)
{
  guint counts[N_KINDS] = { 0 }, used = 0;

  for (guint i = 0; i < self->pictures->len; i++)
    counts[kind_of (nth (self, i))]++;
  for (int kind = 0; kind < N_KINDS; kind++)
    {
      /* Translators: what a picture shows and how many do: "Underside · 4" */
      g_autofree char *label = g_strdup_printf (C_ ("gallery", "%s · %u"), kind_name ((Kind) kind), counts[kind]);
      gboolean shown = counts[kind] > 0 || gtk_toggle_button_get_active (self->buttons[kind]);

      gtk_button_set_label (GTK_BUTTON (self->buttons[kind]), label);
      gtk_widget_set_visible (GTK_WIDGET (self->buttons[kind]), shown);
      used += shown ? 1 : 0;
    }
  gtk_widget_set_visible (self->filter, used > 1 || self->of_stage->len > 1);
}

static char *
stage_name (AppGalleryPage *self, const DeskPicture *picture)
{
  WordsView view = app_view (app_desk_page_desk (self));
  WordsShown plain = picture->shows;

  plain.about = FALSE;
  if (!plain.adult && plain.moults >= 0)
    plain.subadult = FALSE; /* it stands among those of its number */
  return words_shown_stage (&view, &plain);
}

static int
compare_stages (gconstpointer a, gconstpointer b)
{
  return *(const int *) a - *(const int *) b;
}

static const DeskPicture *
first_of_stage (AppGalleryPage *self, int stage)
{
  for (guint i = 0; i < self->pictures->len; i++)
    if (desk_picture_stage (nth (self, i)) == stage)
      return nth (self, i);
  return NULL;
}

static void
list_stages (AppGalleryPage *self)
{
  g_autoptr (GtkStringList) list = gtk_string_list_new (NULL);

  g_array_set_size (self->of_stage, 0);
  for (guint i = 0; i < self->pictures->len; i++)
    {
      int stage = desk_picture_stage (nth (self, i));

      if (first_of_stage (self, stage) == nth (self, i))
        g_array_append_val (self->of_stage, stage);
    }
  g_array_sort (self->of_stage, compare_stages);
  gtk_string_list_append (list, C_ ("gallery", "All stages"));
  for (guint i = 0; i < self->of_stage->len; i++)
    {
      g_autofree char *name = stage_name (self, first_of_stage (self, g_array_index (self->of_stage, int, i)));

      gtk_string_list_append (list, name);
    }
  gtk_drop_down_set_model (self->stages, G_LIST_MODEL (list));
  gtk_widget_set_visible (GTK_WIDGET (self->stages), self->of_stage->len > 1);
}

/* ---- pictures ---- */

/* "L4, underside · 3 May · 8 plates"; the stage where the heading does not say it. */
static char *
caption_of (AppGalleryPage *self, const DeskPicture *picture, gboolean with_stage)
{
  WordsView view = app_view (app_desk_page_desk (self));
  g_autofree char *stage = words_shown_stage (&view, &picture->shows);
  g_autofree char *kind = words_shown_kind (WORDS_LOCAL, &picture->shows);
  g_autofree char *day = words_day (&view, picture->day, WORDS_DAY_SHORT);
  GString *text = g_string_new (NULL);

  if (with_stage)
    g_string_append_printf (text, "%s · ", stage);
  g_string_append (text, kind);
  if (picture->plates >= 0)
    g_string_append_printf (text, C_ ("gallery", ", %d plates"), picture->plates);
  /* Translators: the day on which a picture was entered that does not say when it was taken */
  g_string_append_printf (text, picture->dated ? " · %s" : C_ ("gallery", " · entered %s"), day);
  return g_string_free (text, FALSE);
}

static char *
label_of (AppGalleryPage *self, const DeskPicture *picture)
{
  g_autofree char *caption = caption_of (self, picture, TRUE);
  g_autoptr (DeskSubject) subject = desk_get (app_desk_page_desk (self), picture->subject);

  return g_strdup_printf ("%s, %s, %s", desk_subject_label (subject), app_species_name (subject), caption);
}

static void
open_cb (GtkButton *button, AppGalleryPage *self)
{
  AppWindow *window = app_window_of (self);
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (CoreId));
  guint wanted = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "picture")), at = 0;

  for (guint i = 0; i < self->shown->len; i++)
    {
      guint index = g_array_index (self->shown, guint, i);

      if (index == wanted)
        at = i;
      g_array_append_val (photos, nth (self, index)->photo);
    }
  if (window != NULL && photos->len > 0)
    app_window_show_pictures (window, photos, at);
}

static void
animal_cb (GtkButton *button, AppGalleryPage *self)
{
  const CoreId *id = g_object_get_data (G_OBJECT (button), "animal");

  app_gallery_page_set_animal (self, *id);
}

/* Among all: whose it is; leads to the pictures of that animal. */
static void
add_animal (AppGalleryPage *self, GtkWidget *column, const DeskPicture *picture)
{
  g_autoptr (DeskSubject) subject = desk_get (app_desk_page_desk (self), picture->subject);
  g_autofree char *text = g_markup_printf_escaped ("<b>%s</b> · %s", desk_subject_label (subject), app_species_name (subject));
  GtkWidget *button = gtk_button_new ();
  GtkLabel *label;

  gtk_button_set_child (GTK_BUTTON (button), gtk_label_new (NULL));
  label = GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button)));
  gtk_label_set_markup (label, text);
  gtk_label_set_xalign (label, 0);
  gtk_label_set_yalign (label, 1); /* over its picture, where another beside it has two lines */
  gtk_label_set_wrap (label, TRUE); /* a long name goes on below */
  gtk_label_set_wrap_mode (label, PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (label, LETTERS);
  gtk_widget_add_css_class (button, "quiet");
  gtk_widget_add_css_class (button, "flush");
  gtk_widget_set_tooltip_text (button, C_ ("gallery", "Its pictures by stage"));
  g_object_set_data_full (G_OBJECT (button), "animal", g_memdup2 (&picture->subject, sizeof picture->subject), g_free);
  g_signal_connect_object (button, "clicked", G_CALLBACK (animal_cb), self, 0);
  gtk_box_append (GTK_BOX (column), button);
}

/* The picture and its caption are one button; whose it is is another. */
static void
add_picture (AppGalleryPage *self, AppWrap *wrap, guint index)
{
  const DeskPicture *picture = nth (self, index);
  gboolean of_all = core_id_is_none (self->animal);
  GtkWidget *outer = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *button = gtk_button_new ();
  GtkWidget *column = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  g_autofree char *label = label_of (self, picture);
  g_autofree char *caption = caption_of (self, picture, of_all);
  GtkWidget *room = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkLabel *words;

  gtk_widget_set_size_request (column, WIDTH + 12, -1); /* all alike: they stand in columns */
  gtk_widget_set_size_request (room, WIDTH, HEIGHT);
  gtk_box_append (GTK_BOX (room), app_thumb_new (app_desk_page_desk (self), picture->photo,
                                                 4 * picture->height > 3 * picture->width ? HEIGHT : WIDTH, label));
  gtk_box_append (GTK_BOX (column), room);
  words = app_text (column, caption, "dim");
  gtk_widget_add_css_class (GTK_WIDGET (words), "caption");
  gtk_label_set_max_width_chars (words, LETTERS);
  gtk_button_set_child (GTK_BUTTON (button), column);
  gtk_widget_add_css_class (button, "picture");
  gtk_widget_set_tooltip_text (button, label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_object_set_data (G_OBJECT (button), "picture", GUINT_TO_POINTER (index));
  g_signal_connect_object (button, "clicked", G_CALLBACK (open_cb), self, 0);
  if (of_all)
    add_animal (self, outer, picture);
  gtk_box_append (GTK_BOX (outer), button);
  app_wrap_append (wrap, outer);
}

/* ---- groups ---- */

/* Of one: the stage. */
static void
add_heading (AppGalleryPage *self, const DeskPicture *picture)
{
  WordsView view = app_view (app_desk_page_desk (self));
  g_autofree char *stage = words_shown_stage (&view, &picture->shows);

  gtk_widget_set_margin_top (GTK_WIDGET (app_text (GTK_WIDGET (self->groups), stage, "strong")), 6);
}

static AppWrap *
add_group (AppGalleryPage *self, const DeskPicture *first)
{
  GtkWidget *wrap = g_object_new (APP_TYPE_WRAP, NULL);

  if (!core_id_is_none (self->animal))
    add_heading (self, first);
  gtk_widget_add_css_class (wrap, "gallery");
  gtk_box_append (self->groups, wrap);
  return APP_WRAP (wrap);
}

/* All of all animals flow; of one each stage has its heading. */
static gboolean
goes_on (AppGalleryPage *self, const DeskPicture *a, const DeskPicture *b)
{
  return core_id_is_none (self->animal) || desk_picture_stage (a) == desk_picture_stage (b);
}

static void
show_groups (AppGalleryPage *self)
{
  const DeskPicture *before = NULL;
  AppWrap *wrap = NULL;

  app_box_empty (self->groups);
  g_array_set_size (self->shown, 0);
  for (guint i = 0; i < self->pictures->len; i++)
    if (is_chosen (self, nth (self, i)))
      g_array_append_val (self->shown, i);
  for (guint i = 0; i < self->shown->len && i < self->limit; i++)
    {
      guint index = g_array_index (self->shown, guint, i);

      if (before == NULL || !goes_on (self, before, nth (self, index)))
        wrap = add_group (self, nth (self, index));
      add_picture (self, wrap, index);
      before = nth (self, index);
    }
  gtk_widget_set_visible (self->more, self->shown->len > self->limit);
  gtk_widget_set_visible (GTK_WIDGET (self->none), self->shown->len == 0);
  gtk_label_set_label (self->none, self->pictures->len > 0
                                     ? C_ ("gallery", "No picture fits. Take a filter off: Alt+0.")
                                     : C_ ("gallery", "There are no pictures yet. Drop them here, or add the pictures of "
                                                      "a round: type the number on the cup under each (Ctrl+B)."));
}

/* ---- growth ---- */

/* Which stages cannot be compared, and what would give them a scale. */
static void
show_growth (AppGalleryPage *self)
{
  g_autoptr (GArray) chosen = desk_gallery_growth (self->pictures);
  gboolean one = !core_id_is_none (self->animal);
  gboolean enough = chosen->len > 1;

  gtk_widget_set_visible (self->growth_box, one && self->of_stage->len > 1);
  gtk_widget_set_visible (GTK_WIDGET (self->growth), one && enough);
  if (one && enough)
    app_growth_set (self->growth, app_desk_page_desk (self), self->pictures, chosen);
  gtk_widget_set_visible (GTK_WIDGET (self->growth_note), chosen->len < self->of_stage->len);
  gtk_label_set_label (self->growth_note,
                       C_ ("gallery", "A stage is compared where its scale is known: measure in the picture itself, against a "
                                      "ruler or a disc; or mark base and tip of the abdomen on the photo bench, and enter "
                                      "the length of the abdomen measured in that stage."));
}

/* ---- the page ---- */

static void
show_head (AppGalleryPage *self)
{
  WordsView view = app_view (app_desk_page_desk (self));
  g_autofree char *scheme = words_scheme (WORDS_LOCAL, view.scheme);
  g_autoptr (DeskSubject) subject = core_id_is_none (self->animal) ? NULL : desk_get (app_desk_page_desk (self), self->animal);
  /* Translators: number of the animal and its species */
  g_autofree char *title = subject != NULL ? g_strdup_printf (C_ ("gallery", "Pictures of %s, %s"), desk_subject_label (subject),
                                                              app_species_name (subject))
                                           : g_strdup (C_ ("gallery", "Pictures of all animals"));
  /* Translators: how many pictures, and which L-number the hatchling has */
  g_autofree char *under = g_strdup_printf (TN_ (WORDS_LOCAL, "gallery", "%u picture · stages counted with %s",
                                                 "%u pictures · stages counted with %s", self->pictures->len),
                                            self->pictures->len, scheme);

  gtk_label_set_label (self->title, title);
  gtk_label_set_label (self->under, under);
  gtk_widget_set_visible (GTK_WIDGET (self->under), self->pictures->len > 0);
  gtk_widget_set_visible (self->all, subject != NULL);
}

static void
refresh (AppGalleryPage *self)
{
  Desk *desk = app_desk_page_desk (self);
  g_autoptr (GArray) pictures = NULL;

  if (desk == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  pictures = desk_gallery (desk, self->animal);
  g_array_set_size (self->pictures, 0);
  g_array_append_vals (self->pictures, pictures->data, pictures->len);
  self->filling = TRUE;
  list_stages (self);
  count_kinds (self);
  self->filling = FALSE;
  show_head (self);
  show_growth (self);
  show_groups (self);
}

static void
filter_cb (AppGalleryPage *self)
{
  if (self->filling || app_desk_page_desk (self) == NULL)
    return;
  self->limit = FIRST;
  show_groups (self);
}

static void
clear_filter (AppGalleryPage *self)
{
  self->filling = TRUE;
  for (int kind = 0; kind < N_KINDS; kind++)
    gtk_toggle_button_set_active (self->buttons[kind], FALSE);
  gtk_drop_down_set_selected (self->stages, 0);
  self->filling = FALSE;
  filter_cb (self);
}

static void
more_cb (GtkButton *button, AppGalleryPage *self)
{
  self->limit += FIRST;
  show_groups (self);
}

static void
all_cb (GtkButton *button, AppGalleryPage *self)
{
  app_gallery_page_set_animal (self, (CoreId) { { 0 } });
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppGalleryPage *self)
{
  guint kind = keyval - GDK_KEY_1;

  if ((state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != GDK_ALT_MASK)
    return GDK_EVENT_PROPAGATE;
  if (keyval == GDK_KEY_0)
    {
      clear_filter (self);
      return GDK_EVENT_STOP;
    }
  if (keyval < GDK_KEY_1 || kind >= N_KINDS || !gtk_widget_get_visible (GTK_WIDGET (self->buttons[kind])))
    return GDK_EVENT_PROPAGATE;
  gtk_toggle_button_set_active (self->buttons[kind], !gtk_toggle_button_get_active (self->buttons[kind]));
  return GDK_EVENT_STOP;
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, AppGalleryPage *self)
{
  AppWindow *window = app_window_of (self);
  g_autoptr (GSList) files = gdk_file_list_get_files (g_value_get_boxed (value));

  if (window == NULL || files == NULL)
    return FALSE;
  app_window_add_pictures (window, files);
  return TRUE;
}

static void
desk_set (AppDeskPage *page)
{
  AppGalleryPage *self = APP_GALLERY_PAGE (page);

  self->animal = (CoreId) { { 0 } };
  g_array_set_size (self->pictures, 0);
  g_array_set_size (self->shown, 0);
  app_box_empty (self->groups);
  refresh (self);
}

static void
changed (AppDeskPage *page, DeskSubject *subject)
{
  refresh (APP_GALLERY_PAGE (page));
}

/* On the first picture; without one where reading begins. */
static gboolean
focus (AppDeskPage *page)
{
  AppGalleryPage *self = APP_GALLERY_PAGE (page);

  for (GtkWidget *at = gtk_widget_get_first_child (GTK_WIDGET (self->groups)); at != NULL; at = gtk_widget_get_next_sibling (at))
    if (APP_IS_WRAP (at))
      return gtk_widget_grab_focus (gtk_widget_get_last_child (gtk_widget_get_first_child (at)));
  return gtk_widget_grab_focus (self->scroller);
}

static void
dispose (GObject *object)
{
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_GALLERY_PAGE);
  G_OBJECT_CLASS (app_gallery_page_parent_class)->dispose (object);
}

static void
finalize (GObject *object)
{
  AppGalleryPage *self = APP_GALLERY_PAGE (object);

  g_array_unref (self->pictures);
  g_array_unref (self->shown);
  g_array_unref (self->of_stage);
  G_OBJECT_CLASS (app_gallery_page_parent_class)->finalize (object);
}

static void
app_gallery_page_class_init (AppGalleryPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  G_OBJECT_CLASS (klass)->finalize = finalize;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->changed = changed;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
  g_type_ensure (APP_TYPE_WRAP);
  g_type_ensure (APP_TYPE_GROWTH);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/gallery-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, title);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, all);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, under);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, filter);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, kinds);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, stages);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, growth_box);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, growth);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, growth_note);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, none);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, groups);
  gtk_widget_class_bind_template_child (widget_class, AppGalleryPage, more);
}

static void
add_kinds (AppGalleryPage *self)
{
  for (int kind = 0; kind < N_KINDS; kind++)
    {
      GtkWidget *button = gtk_toggle_button_new ();
      /* Translators: a key, such as Alt+1 */
      g_autofree char *key = g_strdup_printf (C_ ("gallery", "Show only these: Alt+%d"), kind + 1);

      gtk_widget_set_tooltip_text (button, key);
      g_signal_connect_object (button, "toggled", G_CALLBACK (filter_cb), self, G_CONNECT_SWAPPED);
      app_wrap_append (self->kinds, button);
      self->buttons[kind] = GTK_TOGGLE_BUTTON (button);
    }
}

static void
app_gallery_page_init (AppGalleryPage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  self->pictures = g_array_new (FALSE, FALSE, sizeof (DeskPicture));
  self->shown = g_array_new (FALSE, FALSE, sizeof (guint));
  self->of_stage = g_array_new (FALSE, FALSE, sizeof (int));
  self->limit = FIRST;
  gtk_widget_init_template (GTK_WIDGET (self));
  add_kinds (self);
  app_drop_down_mend (self->stages, TRUE);
  g_signal_connect_object (self->stages, "notify::selected", G_CALLBACK (filter_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->all, "clicked", G_CALLBACK (all_cb), self, 0);
  g_signal_connect_object (self->more, "clicked", G_CALLBACK (more_cb), self, 0);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect_object (drop, "drop", G_CALLBACK (drop_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
  g_signal_connect (self, "map", G_CALLBACK (refresh), NULL);
}

GtkWidget *
app_gallery_page_new (void)
{
  return g_object_new (APP_TYPE_GALLERY_PAGE, NULL);
}

void
app_gallery_page_set_animal (AppGalleryPage *self, CoreId animal)
{
  g_return_if_fail (APP_IS_GALLERY_PAGE (self));
  self->animal = animal;
  self->limit = FIRST;
  clear_filter (self);
  refresh (self);
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    (void) focus (APP_DESK_PAGE (self));
}
