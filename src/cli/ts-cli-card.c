/* ts-cli-card.c: the mixing card of a plan
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "card/ts-card.h"
#include "cli/ts-cli.h"
#include "plan/ts-plan-file.h"

typedef struct
{
  char *out, *date;
  gboolean letter, work;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->out);
  g_free (self->date);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* The reference, shown small; a card without it is a card all the same. */
static TsImage *
open_reference (const TsPlan *plan)
{
  int index = ts_plan_find_picture (plan, TS_ROLE_REFERENCE);

  if (index < 0)
    return NULL;
  return ts_image_open (ts_plan_get_picture (plan, (guint) index)->path, NULL, NULL, NULL, NULL);
}

gboolean
ts_cli_card (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
             GError **error)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "out", 0, 0, G_OPTION_ARG_FILENAME, &options.out, "Where to: .pdf, .svg, .png or .csv",
      "FILE" },
    { "date", 0, 0, G_OPTION_ARG_STRING, &options.date, "Shown on the card as it stands", "TEXT" },
    { "letter", 0, 0, G_OPTION_ARG_NONE, &options.letter, "US letter paper and not A4", NULL },
    { "work", 0, 0, G_OPTION_ARG_NONE, &options.work,
      "With the order of work of every surface, as a list to tick off", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (TsPlan) plan = NULL;
  g_autoptr (GPtrArray) results = NULL;
  g_autoptr (TsImage) image = NULL;
  g_autoptr (TsCard) card = NULL;

  if (!ts_cli_parse_options (entries, "PLAN", "Draws the mixing card of a plan.", &argc, &argv,
                             error))
    return FALSE;
  if (options.out == NULL)
    return ts_cli_usage (error, "give --out FILE.pdf, .svg, .png or .csv");
  if (!ts_cli_check_output ("--out", options.out, (const char *[]){ argv[1] }, 1, error))
    return FALSE;
  plan = ts_plan_load (argv[1], error);
  if (plan != NULL && options.work)
    plan->card_work = TRUE;
  results = plan != NULL ? ts_pipeline_run (plan, NULL, NULL, NULL, error) : NULL;
  if (results == NULL)
    return FALSE;
  image = open_reference (plan);
  card = ts_card_new (plan, results, image, options.date,
                      options.letter ? TS_PAPER_LETTER : TS_PAPER_A4, TS_LENGTH_CENTIMETRES);
  if (!ts_card_save (card, options.out, error))
    return FALSE;
  json_object_set_string_member (answer, "file", options.out);
  json_object_set_int_member (answer, "pages", ts_card_get_n_pages (card));
  g_string_append_printf (text, "%s, pages: %u\n", options.out, ts_card_get_n_pages (card));
  return TRUE;
}
