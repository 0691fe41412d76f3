/* ts-cli-sheet.c: a photographed sheet of swatches, to paints
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <math.h>

#include "base/ts-file.h"
#include "base/ts-json.h"
#include "base/ts-text.h"
#include "card/ts-sheet-template.h"
#include "cli/ts-cli.h"
#include "sheet/ts-sheet-marks.h"

typedef struct
{
  char *corners, *names, *paints, *out;
  int n_rows, n_columns;
  gboolean halves;
  double bare;
  TsCliCorrection correction;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->corners);
  g_free (self->names);
  g_free (self->paints);
  g_free (self->out);
  ts_cli_correction_clear (&self->correction);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
check_options (const Options *options, const char *image, GError **error)
{
  const char *others[] = { image, options->names, options->correction.reference,
                           options->correction.from };

  if (options->names == NULL && options->out != NULL)
    return ts_cli_usage (error, "--out needs --names FILE, the paints' names in order");
  if (!(options->bare >= 0.0 && options->bare <= 0.5))
    return ts_cli_usage (error, "--bare is 0 to 0.5 of a cell's height");
  return ts_cli_check_range ("--rows", options->n_rows, 1, TS_SHEET_MAX_SIDE, error) &&
         ts_cli_check_range ("--columns", options->n_columns, 1, TS_SHEET_MAX_SIDE, error) &&
         ts_cli_check_output ("--out", options->out, others, G_N_ELEMENTS (others), error);
}

/* Rows, columns and the rest, those of the sheet to print where nothing is said. */
static void
take_form (const Options *options, TsSheetGrid *grid)
{
  *grid = (TsSheetGrid){ .n_rows = (guint) options->n_rows,
                         .n_columns = (guint) options->n_columns,
                         .halves = options->halves,
                         .bare = options->bare };
  if (options->corners != NULL)
    return;
  grid->halves = TRUE;
  if (!(grid->bare > 0.0))
    grid->bare = TS_TEMPLATE_BARE;
}

static gboolean
parse_corners (const Options *options, TsSheetGrid *grid, GError **error)
{
  g_autoptr (GArray) corners = NULL;

  if (options->corners == NULL)
    return TRUE;
  corners = ts_cli_parse_points ("--corners", options->corners, error);
  if (corners == NULL)
    return FALSE;
  if (corners->len != 4)
    return ts_cli_usage (error, "--corners %s: four corners are wanted, the first row's first",
                         options->corners);
  for (guint i = 0; i < 4; i++)
    {
      grid->corner[i][0] = g_array_index (corners, TsPoint, i).x;
      grid->corner[i][1] = g_array_index (corners, TsPoint, i).y;
    }
  return TRUE;
}

static gboolean
load_names (const char *path, GStrv *names, GError **error)
{
  g_autoptr (GBytes) bytes = NULL;
  const char *text;
  gsize n;

  if (path == NULL)
    return TRUE;
  bytes = ts_file_read (path, TS_TEXT_MAX_BYTES, error);
  if (bytes == NULL)
    return FALSE;
  text = g_bytes_get_data (bytes, &n);
  *names = ts_sheet_parse_names (text != NULL ? text : "", (gssize) n);
  return TRUE;
}

static void
answer_area (JsonObject *object, const char *suffix, const TsSheetArea *area)
{
  g_autofree char *lab = g_strconcat ("lab_d50", suffix, NULL);
  g_autofree char *uneven = g_strconcat ("uneven_delta_e_2000", suffix, NULL);
  g_autofree char *clipped = g_strconcat ("clipped_share", suffix, NULL);
  g_autofree char *within = g_strconcat ("error_delta_e_2000", suffix, NULL);

  ts_cli_set_lab (object, lab, area->lab);
  ts_json_set_number (object, uneven, area->uneven, 2);
  ts_json_set_number (object, clipped, area->clipped_share, 4);
  ts_json_set_number (object, within, area->within, 1);
}

static void
answer_cell (const TsSheetCell *cell, const char *name, gboolean halves, JsonArray *array,
             GString *text)
{
  JsonObject *object = json_object_new ();

  json_object_set_int_member (object, "row", cell->row + 1);
  json_object_set_int_member (object, "column", cell->column + 1);
  json_object_set_string_member (object, "paint", name);
  answer_area (object, halves ? "_white" : "", &cell->white);
  if (halves)
    {
      answer_area (object, "_black", &cell->black);
      ts_json_set_number (object, "contrast_ratio", cell->contrast, 4);
    }
  json_object_set_boolean_member (object, "usable", cell->usable);
  if (cell->why != NULL)
    json_object_set_string_member (object, "mark", cell->why);
  json_array_add_object_element (array, object);

  g_string_append_printf (text, "%2u,%-2u %-24s ", cell->row + 1, cell->column + 1, name);
  ts_cli_append_lab (text, cell->white.lab);
  if (halves)
    {
      g_string_append (text, "  over black ");
      ts_cli_append_lab (text, cell->black.lab);
    }
  g_string_append_printf (text, "  within about dE %.0f%s%s\n", cell->white.within,
                          cell->why != NULL ? "  " : "", cell->why != NULL ? cell->why : "");
}

static void
answer_card (const TsSheetCard *card, JsonObject *answer, GString *text)
{
  json_object_set_boolean_member (answer, "light_evened", card->evened);
  ts_json_set_number (answer, "light_ratio", card->light_ratio, 3);
  if (card->has_white)
    ts_cli_set_lab (answer, "card_white_lab_d50", card->white);
  if (card->has_black)
    ts_cli_set_lab (answer, "card_black_lab_d50", card->black);
  if (card->evened)
    g_string_append_printf (text, "Uneven light was taken out: it fell by %.0f %%.\n",
                            100.0 * (1.0 - 1.0 / card->light_ratio));
  else
    g_string_append (text, "No bare white card was seen between the swatches, so uneven light is "
                           "not taken out.\n");
}

static void
answer_corners (const TsSheetGrid *grid, JsonObject *answer)
{
  JsonArray *array = json_array_new ();

  for (int i = 0; i < 4; i++)
    {
      JsonObject *object = json_object_new ();

      ts_json_set_number (object, "x", grid->corner[i][0], 2);
      ts_json_set_number (object, "y", grid->corner[i][1], 2);
      json_array_add_object_element (array, object);
    }
  json_object_set_array_member (answer, "corners", array);
}

static void
answer_sheet (const TsSheet *sheet, const TsSheetGrid *grid, const char *const *names,
              JsonObject *answer, GString *text)
{
  JsonArray *array = json_array_new ();
  guint n_names = names == NULL ? 0 : g_strv_length ((char **) (gpointer) names);

  answer_card (ts_sheet_get_card (sheet), answer, text);
  for (guint i = 0; i < ts_sheet_get_n_cells (sheet); i++)
    answer_cell (ts_sheet_get_cell (sheet, i), i < n_names ? names[i] : "", grid->halves, array,
                 text);
  json_object_set_array_member (answer, "cells", array);
}

/* The cells that were given a name and are not usable: the painter has to see to them. */
static void
answer_left_out (const TsSheet *sheet, const char *const *names, JsonObject *answer, GString *text)
{
  JsonArray *array = json_array_new ();

  for (guint i = 0; names[i] != NULL; i++)
    {
      const TsSheetCell *cell = ts_sheet_get_cell (sheet, i);

      if (cell->usable || *names[i] == '\0')
        continue;
      json_array_add_string_element (array, names[i]);
      g_string_append_printf (text, "%s was left out: %s.\n", names[i], cell->why);
    }
  json_object_set_array_member (answer, "left_out", array);
}

static gboolean
save_set (const Options *options, const TsSheet *sheet, const char *const *names,
          JsonObject *answer, GString *text, GError **error)
{
  g_autoptr (TsPaintSet) before = NULL;
  g_autoptr (TsPaintSet) set = NULL;
  guint n_added, n_again;

  if (options->paints != NULL)
    {
      before = ts_paint_set_load (options->paints, error);
      if (before == NULL)
        return FALSE;
    }
  set = ts_sheet_add_to_set (sheet, before, names, error);
  if (set == NULL)
    return FALSE;
  if (!ts_paint_set_save (set, options->out, error))
    return FALSE;
  answer_left_out (sheet, names, answer, text);
  n_added =
    ts_paint_set_get_n_paints (set) - (before != NULL ? ts_paint_set_get_n_paints (before) : 0);
  n_again = ts_sheet_count_taken (sheet, names) - n_added;
  json_object_set_int_member (answer, "paints_added", n_added);
  json_object_set_int_member (answer, "paints_measured_again", n_again);
  if (n_again > 0)
    g_string_append_printf (text, "Measured again: %u.\n", n_again);
  g_string_append_printf (text, "%s holds %u paints.\n", options->out,
                          ts_paint_set_get_n_paints (set));
  return TRUE;
}

/* Where in this picture the card or chart lies that the correction comes from, or NULL. */
static const double *
find_light_at (const TsCorrectionSettings *settings, double at[2])
{
  if (settings->source != NULL)
    {
      at[0] = settings->match_here.x;
      at[1] = settings->match_here.y;
      return settings->match_here.radius > 0.0 ? at : NULL;
    }
  switch (settings->kind)
    {
    case TS_CORRECTION_CARD:
      at[0] = settings->card_x;
      at[1] = settings->card_y;
      return at;
    case TS_CORRECTION_CHART:
      for (int c = 0; c < 2; c++)
        at[c] = 0.25 * (settings->corner[0][c] + settings->corner[1][c] + settings->corner[2][c] +
                        settings->corner[3][c]);
      return at;
    case TS_CORRECTION_NONE:
    case TS_CORRECTION_GUESS:
    default:
      return NULL;
    }
}

static gboolean
read_sheet (const Options *options, const char *path, JsonObject *answer, GString *text,
            GError **error)
{
  g_autoptr (TsImage) image = NULL;
  g_autoptr (TsCorrection) correction = NULL;
  g_autoptr (TsSheet) sheet = NULL;
  g_auto (TsCorrectionSettings) settings = { .kind = TS_CORRECTION_NONE };
  g_auto (GStrv) names = NULL;
  TsChartReading reading;
  TsSheetGrid grid;
  double at[2];

  if (!ts_cli_correction_parse (&options->correction, &settings, error))
    return FALSE;
  take_form (options, &grid);
  if (!parse_corners (options, &grid, error) || !load_names (options->names, &names, error))
    return FALSE;
  image = ts_image_open (path, NULL, NULL, NULL, error);
  if (image == NULL || (options->corners == NULL && !ts_sheet_find_marks (image, &grid, error)))
    return FALSE;
  correction = ts_pipeline_correct (&settings, image, &reading, error);
  if (correction == NULL)
    return FALSE;
  sheet = ts_sheet_read (image, correction, &grid, find_light_at (&settings, at), error);
  if (sheet == NULL)
    return FALSE;
  ts_cli_set_correction (answer, correction, &reading);
  answer_corners (&grid, answer);
  answer_sheet (sheet, &grid, (const char *const *) names, answer, text);
  return options->out == NULL ||
         save_set (options, sheet, (const char *const *) names, answer, text, error);
}

gboolean
ts_cli_sheet (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
              GError **error)
{
  g_auto (Options) options = { .n_rows = TS_TEMPLATE_ROWS, .n_columns = TS_TEMPLATE_COLUMNS };
  const GOptionEntry entries[] = {
    { "corners", 0, 0, G_OPTION_ARG_STRING, &options.corners,
      "Outer corners of the grid, along the first row and round (the rings of a printed sheet)",
      "X,Y:X,Y:X,Y:X,Y" },
    { "rows", 0, 0, G_OPTION_ARG_INT, &options.n_rows, "Rows of cells (8)", "R" },
    { "columns", 0, 0, G_OPTION_ARG_INT, &options.n_columns, "Cells in each row (5)", "C" },
    { "halves", 0, 0, G_OPTION_ARG_NONE, &options.halves,
      "Each cell is half black and half white card, side by side", NULL },
    { "bare", 0, 0, G_OPTION_ARG_DOUBLE, &options.bare,
      "Share of each cell's height, at its top, left unpainted (0)", "S" },
    { "names", 0, 0, G_OPTION_ARG_FILENAME, &options.names,
      "Names of the paints, one a line, in order; or a table with a column name", "FILE" },
    { "paints", 0, 0, G_OPTION_ARG_FILENAME, &options.paints,
      "A paint set to add them to (a new one)", "SET.csv" },
    { "out", 0, 0, G_OPTION_ARG_FILENAME, &options.out, "Where to save the set", "NEW.csv" },
    TS_CLI_CORRECTION_ENTRIES (options.correction),
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };

  return ts_cli_parse_options (entries, "IMAGE",
                               "Reads a photographed sheet of painted swatches into paints.", &argc,
                               &argv, error) &&
         check_options (&options, argv[1], error) &&
         read_sheet (&options, argv[1], answer, text, error);
}
