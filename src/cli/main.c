/* main.c: tonestair-cli, the job from a shell
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <errno.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "base/ts-json.h"
#include "cli/ts-cli.h"

typedef struct
{
  const char *name;
  TsCliFunc run;
  const char *summary;
} Verb;

static const Verb verbs[] = {
  { "measure", ts_cli_measure, "measure spots of a picture" },
  { "stair", ts_cli_stair, "the whole job: a run, its curve, steps, mixes and checks" },
  { "curve", ts_cli_curve, "fit a lightness curve to a table and cut it into steps" },
  { "mix", ts_cli_mix, "the nearest mixes of a paint set to colours" },
  { "predict", ts_cli_predict, "the colour of a recipe, opaque or in coats over a ground" },
  { "calibrate", ts_cli_calibrate, "refine a paint set by test swatches" },
  { "check", ts_cli_check, "check a plan, and a finished figure's photograph against it" },
  { "brief", ts_cli_brief, "mixes for a client's colours, and whether they pass" },
  { "card", ts_cli_card, "the mixing card of a plan" },
  { "pack", ts_cli_pack, "a copy of a plan with its pictures, in a folder of its own" },
  { "palette", ts_cli_palette, "the order of work at the palette for a plan; fewest paints" },
  { "paints", ts_cli_paints, "read, check and describe a paint set" },
  { "sheet", ts_cli_sheet, "read a photographed sheet of painted swatches into paints" },
};

static void
print_help (void)
{
  g_print ("Usage: tonestair-cli VERB ...\n\n");
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    g_print ("  %-10s %s\n", verbs[i].name, verbs[i].summary);
  g_print (
    "\nEvery verb takes --json, and --help for its own words. Coordinates are pixels of the\n"
    "upright picture. Exit status: 0 done, 1 the input was refused, 2 wrong usage.\n");
}

static const Verb *
find_verb (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (verbs); i++)
    if (g_str_equal (verbs[i].name, name))
      return &verbs[i];
  return NULL;
}

/* One line on standard error: what, where, the mend. */
static int
complain (const GError *error)
{
  g_autoptr (GString) line = g_string_new (NULL);
  g_autofree char *message = g_utf8_make_valid (error->message, -1);

  /* Names of files and what stands in them may hold anything, also what moves a cursor. */
  for (const char *at = message; *at != '\0'; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);

      g_string_append_unichar (line, g_unichar_isprint (c) && !g_unichar_isspace (c) ? c : ' ');
    }
  g_printerr ("tonestair-cli: %s\n", line->str);
  return error->domain == TS_CLI_ERROR ? TS_CLI_USAGE : TS_CLI_REFUSED;
}

static char *
dup_answer (JsonObject *answer, const GString *text, gboolean json)
{
  g_autoptr (JsonNode) root = NULL;

  if (!json)
    return g_strdup (text->str);
  root = json_node_new (JSON_NODE_OBJECT);
  json_node_set_object (root, answer);
  return ts_json_to_text (root);
}

/* A script must learn that a full disk or a closed pipe took the answer. */
static int
print_answer (const char *answer)
{
  if (fputs (answer, stdout) >= 0 && fflush (stdout) == 0)
    return TS_CLI_DONE;
  g_printerr ("tonestair-cli: the answer cannot be written to standard output: %s. Free some space "
              "or write it elsewhere.\n",
              g_strerror (errno));
  return TS_CLI_REFUSED;
}

static int
run (const Verb *verb, int argc, char **argv)
{
  g_autoptr (JsonObject) answer = json_object_new ();
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GError) error = NULL;
  g_autofree char *printed = NULL;
  gboolean json = FALSE;

  json_object_set_int_member (answer, "format", 1);
  if (!verb->run (argc, argv, answer, text, &json, &error))
    return complain (error);
  printed = dup_answer (answer, text, json);
  return print_answer (printed);
}

int
main (int argc, char **argv)
{
  const Verb *verb;

  /* Scripts read what it says: numbers have a point and the words are the same in every language.
   * Names in and out are UTF-8; a script may run without any locale. */
  setlocale (LC_CTYPE, "C.UTF-8");
  if (argc < 2)
    {
      g_printerr ("tonestair-cli: no verb. Try tonestair-cli --help.\n");
      return TS_CLI_USAGE;
    }
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0 ||
      strcmp (argv[1], "help") == 0)
    {
      print_help ();
      return TS_CLI_DONE;
    }
  if (strcmp (argv[1], "--version") == 0)
    {
      g_print ("tonestair-cli %s\n", TS_VERSION);
      return TS_CLI_DONE;
    }
  verb = find_verb (argv[1]);
  if (verb == NULL)
    {
      g_printerr ("tonestair-cli: there is no verb “%s”. Try tonestair-cli --help.\n", argv[1]);
      return TS_CLI_USAGE;
    }
  return run (verb, argc - 1, argv + 1);
}
