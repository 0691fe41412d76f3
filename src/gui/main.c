/* main.c: start of the desktop program
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <glib/gi18n.h>

#include "gui/window/ts-application.h"

int
main (int argc, char **argv)
{
  g_autoptr (TsApplication) application = NULL;
  const char *folder = g_getenv ("TONESTAIR_LOCALE");

  /* The languages of a program that is not installed lie in its build folder. */
  bindtextdomain (GETTEXT_PACKAGE, folder != NULL ? folder : TS_LOCALE_FOLDER);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_set_application_name (_ ("Tonestair"));
  application = ts_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
