/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-desk-page.c — see app-desk-page.h. */
#include "app/app-desk-page.h"

#include "app/app-widgets.h"

typedef struct
{
  Desk *desk;
  GSignalGroup *signals;
} AppDeskPagePrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (AppDeskPage, app_desk_page, GTK_TYPE_WIDGET)

enum
{
  PROP_0,
  PROP_DESK,
  N_PROPS
};
static GParamSpec *props[N_PROPS];

static AppDeskPagePrivate *
private_of (gpointer self)
{
  return app_desk_page_get_instance_private (APP_DESK_PAGE (self));
}

static void
changed_cb (Desk *desk, DeskSubject *subject, AppDeskPage *self)
{
  AppDeskPageClass *klass = APP_DESK_PAGE_GET_CLASS (self);

  if (klass->changed != NULL)
    klass->changed (self, subject);
}

static void
today_cb (Desk *desk, AppDeskPage *self)
{
  AppDeskPageClass *klass = APP_DESK_PAGE_GET_CLASS (self);

  if (klass->today_changed != NULL)
    klass->today_changed (self);
}

static void
backup_cb (Desk *desk, AppDeskPage *self)
{
  AppDeskPageClass *klass = APP_DESK_PAGE_GET_CLASS (self);

  if (klass->backup_done != NULL)
    klass->backup_done (self);
}

static gboolean
grab_focus (GtkWidget *widget)
{
  AppDeskPageClass *klass = APP_DESK_PAGE_GET_CLASS (widget);

  return klass->focus != NULL && klass->focus (APP_DESK_PAGE (widget));
}

/* A page never takes the keys itself, so what Tab enters is its child; without this GTK would ask
 * grab_focus() above, which goes where a page begins. From the page's own scroller, on which reading
 * begins, Tab goes in: GTK would leave it. */
static gboolean
move_focus (GtkWidget *widget, GtkDirectionType direction)
{
  GtkWidget *focus = gtk_root_get_focus (gtk_widget_get_root (widget));
  GtkWidget *child = gtk_widget_get_first_child (widget);

  if (focus != NULL && focus == child && GTK_IS_SCROLLED_WINDOW (child) && direction == GTK_DIR_TAB_FORWARD)
    child = gtk_scrolled_window_get_child (GTK_SCROLLED_WINDOW (child));
  return child != NULL && gtk_widget_child_focus (child, direction);
}

static void
set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  AppDeskPagePrivate *priv = private_of (object);
  AppDeskPageClass *klass = APP_DESK_PAGE_GET_CLASS (object);

  if (id != PROP_DESK)
    {
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
      return;
    }
  g_set_object (&priv->desk, g_value_get_object (value));
  g_signal_group_set_target (priv->signals, priv->desk);
  if (klass->desk_set != NULL)
    klass->desk_set (APP_DESK_PAGE (object));
}

static void
dispose (GObject *object)
{
  AppDeskPagePrivate *priv = private_of (object);

  if (priv->signals != NULL)
    g_signal_group_set_target (priv->signals, NULL);
  g_clear_object (&priv->signals);
  app_unparent_all (object);
  g_clear_object (&priv->desk); /* after the children, which may ask for it to the end */
  G_OBJECT_CLASS (app_desk_page_parent_class)->dispose (object);
}

static void
app_desk_page_class_init (AppDeskPageClass *klass)
{
  G_OBJECT_CLASS (klass)->set_property = set_property;
  G_OBJECT_CLASS (klass)->dispose = dispose;
  GTK_WIDGET_CLASS (klass)->grab_focus = grab_focus;
  GTK_WIDGET_CLASS (klass)->focus = move_focus;
  props[PROP_DESK] = g_param_spec_object ("desk", NULL, NULL, DESK_TYPE_DESK, G_PARAM_WRITABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, props);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
app_desk_page_init (AppDeskPage *self)
{
  AppDeskPagePrivate *priv = private_of (self);

  priv->signals = g_signal_group_new (DESK_TYPE_DESK);
  g_signal_group_connect_object (priv->signals, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_group_connect_object (priv->signals, "today-changed", G_CALLBACK (today_cb), self, 0);
  g_signal_group_connect_object (priv->signals, "backup-done", G_CALLBACK (backup_cb), self, 0);
}

Desk *
app_desk_page_desk (gpointer self)
{
  g_return_val_if_fail (APP_IS_DESK_PAGE (self), NULL);
  return private_of (self)->desk;
}
