/* SPDX-License-Identifier: GPL-3.0-or-later */
/* app-verdict.c — see app-verdict.h. Made anew at each change: it is a dozen labels. */
#include "app/app-verdict.h"

#include <glib/gi18n.h>

#include "app/app-view.h"
#include "app/app-widgets.h"

struct _AppVerdict
{
  GtkWidget parent_instance;

  GtkWidget *scroller; /* child, borrowed */
  GtkWidget *box;
};

G_DEFINE_FINAL_TYPE (AppVerdict, app_verdict, GTK_TYPE_WIDGET)

static void
show_sign (AppVerdict *self, const CoreSexVerdict *verdict)
{
  GtkWidget *sign = gtk_label_new (words_sex_sign (verdict->verdict));

  gtk_label_set_xalign (GTK_LABEL (sign), 0);
  gtk_widget_add_css_class (sign, "big");
  if (verdict->verdict == CORE_VERDICT_UNDECIDED)
    gtk_widget_add_css_class (sign, "dim");
  gtk_accessible_update_state (GTK_ACCESSIBLE (sign), GTK_ACCESSIBLE_STATE_HIDDEN, TRUE, -1);
  gtk_box_append (GTK_BOX (self->box), sign);
}

static void
show_evidence (AppVerdict *self, const WordsView *view, const CoreSexVerdict *verdict)
{
  app_heading (self->box, C_ ("verdict", "What speaks for it"));
  if (verdict->n == 0)
    app_text (self->box, C_ ("verdict", "Nothing yet that tells the sex."), NULL);
  for (size_t i = 0; i < verdict->n; i++)
    {
      g_autofree char *text = words_evidence (view, &verdict->evidence[i]);

      app_text (self->box, text, NULL);
    }
}

static void
show_asks (AppVerdict *self, const WordsView *view, const CoreSexVerdict *verdict)
{
  g_auto (GStrv) asks = words_asks (view, verdict->ask);

  if (asks == NULL || asks[0] == NULL)
    return;
  app_heading (self->box, C_ ("verdict", "What would settle it"));
  for (gsize i = 0; asks[i] != NULL; i++)
    app_text (self->box, asks[i], NULL);
}

/* All of it in one, so that a reader says it when the focus comes here. */
static char *
heard (const WordsView *view, const CoreSexVerdict *verdict)
{
  g_auto (GStrv) asks = words_asks (view, verdict->ask);
  g_autoptr (GString) text = g_string_new (NULL);

  for (size_t i = 0; i < verdict->n; i++)
    {
      g_autofree char *piece = words_evidence (view, &verdict->evidence[i]);

      g_string_append_printf (text, "%s ", piece);
    }
  if (verdict->n == 0)
    g_string_append_printf (text, "%s ", C_ ("verdict", "Nothing yet that tells the sex."));
  for (gsize i = 0; asks != NULL && asks[i] != NULL; i++)
    g_string_append_printf (text, "%s ", asks[i]);
  return g_strdup (g_strchomp (text->str));
}

void
app_verdict_show (AppVerdict *self, Desk *desk, BenchModel *model)
{
  const CoreSexVerdict *verdict = bench_model_verdict (model);
  WordsView view = app_view (desk);
  g_autofree char *said = NULL;
  g_autofree char *pieces = heard (&view, verdict);

  g_return_if_fail (APP_IS_VERDICT (self));
  app_box_empty (GTK_BOX (self->box));
  said = words_verdict (&view, verdict, desk_subject_forecast (bench_model_subject (model)));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, said,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, pieces, -1);
  show_sign (self, verdict);
  app_text (self->box, said, "title");
  show_evidence (self, &view, verdict);
  show_asks (self, &view, verdict);
}

static void
app_verdict_dispose (GObject *object)
{
  g_clear_pointer (&APP_VERDICT (object)->scroller, gtk_widget_unparent);
  G_OBJECT_CLASS (app_verdict_parent_class)->dispose (object);
}

static void
app_verdict_class_init (AppVerdictClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = app_verdict_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (widget_class, "verdict");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
app_verdict_init (AppVerdict *self)
{
  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), self->box);
  gtk_widget_set_vexpand (GTK_WIDGET (self), TRUE);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
}

GtkWidget *
app_verdict_new (void)
{
  return g_object_new (APP_TYPE_VERDICT, NULL);
}
