/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-welcome-page.c — see app-welcome-page.h. */
#include "app/app-welcome-page.h"

#include <glib/gi18n.h>

#include "app/app-symbol.h"
#include "app/app-widgets.h"

struct _AppWelcomePage
{
  GtkWidget parent_instance;

  GtkBox *box; /* template child, borrowed */
};

G_DEFINE_FINAL_TYPE (AppWelcomePage, app_welcome_page, GTK_TYPE_WIDGET)

static void
dispose (GObject *object)
{
  app_template_dispose (GTK_WIDGET (object), APP_TYPE_WELCOME_PAGE);
  G_OBJECT_CLASS (app_welcome_page_parent_class)->dispose (object);
}

static void
app_welcome_page_class_init (AppWelcomePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/mantidary/welcome-page.ui");
  gtk_widget_class_bind_template_child (widget_class, AppWelcomePage, box);
}

static void
app_welcome_page_init (AppWelcomePage *self)
{
  GtkWidget *sign = app_symbol_new ("place", 72);

  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_widget_add_css_class (sign, "leaf");
  gtk_box_prepend (self->box, sign);
}

GtkWidget *
app_welcome_page_new (void)
{
  return g_object_new (APP_TYPE_WELCOME_PAGE, NULL);
}

GtkWidget *
app_opening_page_new (void)
{
  GtkWidget *words = gtk_label_new (C_ ("welcome", "Opening the journal…"));

  gtk_widget_add_css_class (words, "dim");
  return words;
}
