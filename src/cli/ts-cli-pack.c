/* ts-cli-pack.c: a copy of a plan with its pictures
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "cli/ts-cli.h"
#include "plan/ts-plan-file.h"
#include "plan/ts-plan-pack.h"

gboolean
ts_cli_pack (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
             GError **error)
{
  g_autofree char *folder = NULL, *path = NULL;
  const GOptionEntry entries[] = { { "folder", 0, 0, G_OPTION_ARG_FILENAME, &folder,
                                     "Where its new folder goes (here)", "FOLDER" },
                                   { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object",
                                     NULL },
                                   G_OPTION_ENTRY_NULL };
  g_autoptr (TsPlan) plan = NULL;

  if (!ts_cli_parse_options (entries, "PLAN",
                             "Makes a folder with a copy of a plan and of its pictures.", &argc,
                             &argv, error))
    return FALSE;
  if (argc != 2)
    return ts_cli_usage (error, "give one plan");
  plan = ts_plan_load (argv[1], error);
  path = plan != NULL ? ts_plan_pack (plan, folder != NULL ? folder : ".", error) : NULL;
  if (path == NULL)
    return FALSE;
  json_object_set_string_member (answer, "file", path);
  g_string_append_printf (text, "%s\n", path);
  return TRUE;
}
