/* SPDX-License-Identifier: GPL-3.0-or-later */
/* main.c — starts the program; everything else is in the library, so that tests can link it. */
#include "app/app-application.h"

int
main (int argc, char **argv)
{
  g_autoptr (AppApplication) application = NULL;

  app_locale_init ();
  application = app_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
