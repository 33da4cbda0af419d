/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-picture-page.c — see app-picture-page.h. A late picture for another photo is dropped.
 *
 * A small copy is read first and shown until all pixels are there, so that a large picture can be
 * looked at and moved at once. */
#include "app/app-picture-page.h"

#include <glib/gi18n.h>

#include "app/app-canvas.h"
#include "app/app-pages.h"
#include "app/app-view.h"
#include "app/app-widgets.h"
#include "app/app-window.h"
#include "desk/desk-gallery.h"
#include "imaging/img-decode.h"

#define PREVIEW_SIDE 1280

struct _AppPicturePage
{
  AppDeskPage parent_instance;

  /* Children, borrowed */
  GtkWidget *box;
  GtkWidget *head, *keys;
  GtkLabel *title;
  GtkWidget *back, *next;
  GtkLabel *words;
  GtkStack *stack;
  AppCanvas *canvas;

  /* Owned */
  GArray *photos; /* CoreId; empty = nothing is open */
  GCancellable *cancellable;

  guint at;
};

G_DEFINE_FINAL_TYPE (AppPicturePage, app_picture_page, APP_TYPE_DESK_PAGE)

static void open_nth (AppPicturePage *self, guint at);

/* ---- reading ---- */

static void
show_canvas (AppPicturePage *self)
{
  if (g_str_equal (gtk_stack_get_visible_child_name (self->stack), "canvas"))
    return;
  gtk_stack_set_visible_child_name (self->stack, "canvas");
  gtk_widget_grab_focus (GTK_WIDGET (self->canvas));
}

static void
decoded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppPicturePage) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (ImgPicture) picture = img_decode_finish (result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || self->box == NULL)
    return;
  if (picture == NULL)
    {
      g_autofree char *text = app_error_text (error);

      app_canvas_set_pixels (self->canvas, NULL);
      gtk_label_set_label (self->words, text);
      gtk_stack_set_visible_child_name (self->stack, "words");
      return;
    }
  app_canvas_set_pixels (self->canvas, picture->pixels);
  show_canvas (self);
}

/* What is wrong with a picture is said when its whole is read. */
static void
preview_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (AppPicturePage) self = data;
  g_autoptr (ImgPicture) picture = img_decode_finish (result, NULL);
  int width, height;

  if (picture == NULL || self->box == NULL || app_canvas_size (self->canvas, &width, &height))
    return;
  app_canvas_set_preview (self->canvas, picture->pixels, picture->original_width, picture->original_height);
  show_canvas (self);
}

static void
clear (AppPicturePage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  if (self->canvas != NULL)
    app_canvas_set_pixels (self->canvas, NULL);
}

static void
read_file (AppPicturePage *self, const char *path, const DeskPhoto *info)
{
  static const ImgDecodeOptions small = { .max_side = PREVIEW_SIDE };
  g_autoptr (GFile) file = g_file_new_for_path (path);

  self->cancellable = g_cancellable_new ();
  if (MAX (info->width, info->height) > 2 * PREVIEW_SIDE)
    img_decode_async (file, &small, self->cancellable, preview_cb, g_object_ref (self));
  img_decode_async (file, NULL, self->cancellable, decoded_cb, g_object_ref (self));
}

/* ---- what stands over it ---- */

static char *
title_of (AppPicturePage *self, CoreId photo, const DeskPhoto *info)
{
  Desk *desk = app_desk_page_desk (self);
  const CoreEntry *entry = desk_entry (desk, photo);
  g_autoptr (DeskSubject) subject = entry != NULL ? desk_get (desk, entry->subject) : NULL;
  g_autoptr (GArray) pictures = subject != NULL ? desk_gallery (desk, entry->subject) : NULL;
  int nth = pictures != NULL ? desk_gallery_find (desk, pictures, photo) : -1;
  WordsView view = app_view (desk);
  const DeskPicture *picture;
  g_autofree char *day = NULL, *stage = NULL, *kind = NULL;

  if (nth < 0)
    return g_strdup (C_ ("picture", "Picture"));
  picture = &g_array_index (pictures, DeskPicture, nth);
  day = words_day (&view, picture->day, WORDS_DAY_FULL);
  stage = words_shown_stage (&view, &picture->shows);
  kind = words_shown_kind (WORDS_LOCAL, &picture->shows);
  /* Translators: number of the animal, its species, "L4", "underside", a day, width, height, which
   * of how many pictures */
  return g_strdup_printf (C_ ("picture", "%s, %s · %s, %s · picture of %s · %d × %d · %u of %u"),
                          desk_subject_label (subject), app_species_name (subject), stage, kind, day, info->width,
                          info->height, self->at + 1, self->photos->len);
}

static void
set_title (AppPicturePage *self, const char *title)
{
  gtk_label_set_label (self->title, title);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->title), title);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->canvas), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
}

/* ---- opening ---- */

static void
open_nth (AppPicturePage *self, guint at)
{
  Desk *desk = app_desk_page_desk (self);
  CoreId photo = g_array_index (self->photos, CoreId, at);
  const CoreEntry *heir = desk != NULL ? desk_entry (desk, photo) : NULL;
  DeskPhoto info;
  g_autofree char *path = NULL, *title = NULL;

  clear (self);
  self->at = at;
  gtk_widget_set_sensitive (self->back, at > 0);
  gtk_widget_set_sensitive (self->next, at + 1 < self->photos->len);
  gtk_stack_set_visible_child_name (self->stack, "words");
  gtk_label_set_label (self->words, C_ ("picture", "Reading the picture…"));
  set_title (self, C_ ("picture", "Picture"));
  gtk_widget_grab_focus (GTK_WIDGET (self->stack));
  if (heir == NULL || !desk_photo_info (desk, photo, &info) || (path = desk_photo_path (desk, photo)) == NULL)
    {
      gtk_label_set_label (self->words, C_ ("picture", "The file of this picture is missing. Attach it once "
                                                       "more, or restore a backup."));
      return;
    }
  title = title_of (self, photo, &info);
  set_title (self, title);
  read_file (self, path, &info);
}

void
app_picture_page_open_among (AppPicturePage *self, const GArray *photos, guint at)
{
  g_return_if_fail (APP_IS_PICTURE_PAGE (self));
  g_return_if_fail (photos != NULL && at < photos->len);
  g_array_set_size (self->photos, 0);
  g_array_append_vals (self->photos, photos->data, photos->len);
  open_nth (self, at);
}

void
app_picture_page_open (AppPicturePage *self, CoreId photo)
{
  Desk *desk;
  const CoreEntry *entry;
  g_autoptr (GArray) pictures = NULL;
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (CoreId));
  int at;

  g_return_if_fail (APP_IS_PICTURE_PAGE (self));
  desk = app_desk_page_desk (self);
  entry = desk != NULL ? desk_entry (desk, photo) : NULL;
  pictures = entry != NULL ? desk_gallery (desk, entry->subject) : NULL;
  at = pictures != NULL ? desk_gallery_find (desk, pictures, photo) : -1;
  for (guint i = 0; at >= 0 && i < pictures->len; i++)
    g_array_append_val (photos, g_array_index (pictures, DeskPicture, i).photo);
  if (at < 0) /* not among what counts: alone */
    g_array_append_val (photos, photo);
  app_picture_page_open_among (self, photos, (guint) MAX (at, 0));
}

static void
step (AppPicturePage *self, int by)
{
  if ((by < 0 && self->at > 0) || (by > 0 && self->at + 1 < self->photos->len))
    open_nth (self, by < 0 ? self->at - 1 : self->at + 1);
}

static void
step_cb (GtkButton *button, AppPicturePage *self)
{
  step (self, GTK_WIDGET (button) == self->back ? -1 : 1);
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, AppPicturePage *self)
{
  if (self->photos->len == 0 || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK)) != 0)
    return GDK_EVENT_PROPAGATE;
  switch (keyval)
    {
    case GDK_KEY_Page_Up:
    case GDK_KEY_KP_Page_Up:
    case GDK_KEY_bracketleft: step (self, -1); return GDK_EVENT_STOP;
    case GDK_KEY_Page_Down:
    case GDK_KEY_KP_Page_Down:
    case GDK_KEY_bracketright:
    case GDK_KEY_space: step (self, 1); return GDK_EVENT_STOP;
    default: return GDK_EVENT_PROPAGATE;
    }
}

/* ---- the page ---- */

static void
desk_set (AppDeskPage *page)
{
  AppPicturePage *self = APP_PICTURE_PAGE (page);

  g_array_set_size (self->photos, 0);
  clear (self);
}

/* Pictures of dozens of megapixels are not kept while nobody looks at them. */
static void
hidden_cb (AppPicturePage *self)
{
  clear (self);
}

/* Back from another page. */
static void
shown_cb (AppPicturePage *self)
{
  if (self->photos->len > 0 && self->cancellable == NULL)
    open_nth (self, self->at);
}

/* The whole screen is the picture's. */
static void
fullscreened_cb (GtkWindow *window, GParamSpec *pspec, AppPicturePage *self)
{
  gboolean whole = gtk_window_is_fullscreen (window);

  gtk_widget_set_visible (self->head, !whole);
  gtk_widget_set_visible (self->keys, !whole);
}

static void
root_cb (AppPicturePage *self)
{
  AppWindow *window = app_window_of (self);

  if (window != NULL)
    g_signal_connect_object (window, "notify::fullscreened", G_CALLBACK (fullscreened_cb), self, 0);
}

static gboolean
focus (AppDeskPage *page)
{
  AppPicturePage *self = APP_PICTURE_PAGE (page);

  return gtk_widget_grab_focus (GTK_WIDGET (self->canvas)) || gtk_widget_grab_focus (GTK_WIDGET (self->stack));
}

static void
app_picture_page_dispose (GObject *object)
{
  AppPicturePage *self = APP_PICTURE_PAGE (object);

  self->box = NULL; /* gone with its parent */
  self->canvas = NULL;
  clear (self);
  G_OBJECT_CLASS (app_picture_page_parent_class)->dispose (object);
}

static void
app_picture_page_finalize (GObject *object)
{
  g_array_unref (APP_PICTURE_PAGE (object)->photos);
  G_OBJECT_CLASS (app_picture_page_parent_class)->finalize (object);
}

static void
app_picture_page_class_init (AppPicturePageClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = app_picture_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = app_picture_page_finalize;
  APP_DESK_PAGE_CLASS (klass)->desk_set = desk_set;
  APP_DESK_PAGE_CLASS (klass)->focus = focus;
}

static GtkWidget *
head_button (AppPicturePage *self, const char *label, const char *tooltip)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  gtk_widget_add_css_class (button, "quiet");
  gtk_widget_set_tooltip_text (button, tooltip);
  gtk_box_append (GTK_BOX (self->head), button);
  return button;
}

static void
add_head (AppPicturePage *self)
{
  GtkWidget *whole;

  self->head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  gtk_widget_add_css_class (self->head, "bench-head");
  self->title = app_text (self->head, NULL, "dim");
  gtk_label_set_wrap (self->title, FALSE);
  gtk_label_set_ellipsize (self->title, PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (GTK_WIDGET (self->title), TRUE);
  self->back = head_button (self, C_ ("picture", "P_revious"), C_ ("picture", "The picture before: Page Up"));
  self->next = head_button (self, C_ ("picture", "_Next"), C_ ("picture", "The next picture: Page Down"));
  whole = head_button (self, C_ ("picture", "_Full screen"), C_ ("picture", "The whole screen: F11"));
  g_signal_connect_object (self->back, "clicked", G_CALLBACK (step_cb), self, 0);
  g_signal_connect_object (self->next, "clicked", G_CALLBACK (step_cb), self, 0);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (whole), "win.fullscreen");
  gtk_box_append (GTK_BOX (self->box), self->head);
}

static void
add_stack (AppPicturePage *self)
{
  GtkWidget *words = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  self->stack = GTK_STACK (gtk_stack_new ());
  gtk_widget_set_focusable (GTK_WIDGET (self->stack), TRUE); /* keys work while it is read */
  self->canvas = APP_CANVAS (app_canvas_new ());
  gtk_widget_set_valign (words, GTK_ALIGN_CENTER);
  gtk_widget_set_halign (words, GTK_ALIGN_CENTER);
  self->words = app_text (words, NULL, "sentence");
  gtk_label_set_max_width_chars (self->words, 60);
  gtk_stack_add_named (self->stack, words, "words");
  gtk_stack_add_named (self->stack, GTK_WIDGET (self->canvas), "canvas");
  gtk_widget_set_vexpand (GTK_WIDGET (self->stack), TRUE);
  gtk_box_append (GTK_BOX (self->box), GTK_WIDGET (self->stack));
}

static void
app_picture_page_init (AppPicturePage *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->photos = g_array_new (FALSE, FALSE, sizeof (CoreId));
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  add_head (self);
  add_stack (self);
  self->keys = GTK_WIDGET (app_text (self->box,
                                     C_ ("picture", "Scroll, + and − zoom · 1 pixel for pixel · 0 shows it whole · drag or "
                                                    "arrows move · Page Up and Down change the picture · F11 full "
                                                    "screen · Esc goes back"),
                                     "bench-keys"));
  app_take_digits (GTK_WIDGET (self)); /* 0 and 1 zoom: they are no cup */
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, 0);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect (self, "map", G_CALLBACK (shown_cb), NULL);
  g_signal_connect (self, "unmap", G_CALLBACK (hidden_cb), NULL);
  g_signal_connect (self, "notify::root", G_CALLBACK (root_cb), NULL);
}

GtkWidget *
app_picture_page_new (void)
{
  return g_object_new (APP_TYPE_PICTURE_PAGE, NULL);
}
