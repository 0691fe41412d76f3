/* ts-cli-predict.c: the colour of a recipe
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include <math.h>

#include "base/ts-error.h"
#include "base/ts-json.h"
#include "cli/ts-cli.h"

typedef struct
{
  char *paints, *recipe, *over, *sprayed;
  double coats;  /* -INFINITY: not given */
  double medium; /* parts to one part of the mix */
} Options;

static void
options_clear (Options *self)
{
  g_free (self->paints);
  g_free (self->recipe);
  g_free (self->over);
  g_free (self->sprayed);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
check_options (const Options *options, GError **error)
{
  if (options->paints == NULL || options->recipe == NULL)
    return ts_cli_usage (error, "give --paints SET.csv and --recipe “2 Lamp Black + 1 Deep Blue”");
  if (!(options->coats <= 1000.0) || (options->coats < 0.0 && !isinf (options->coats)))
    return ts_cli_usage (error, "--coats is 0 to 1000");
  if (options->sprayed != NULL && options->over != NULL)
    return ts_cli_usage (error, "give --over or --sprayed, not both");
  if (!(options->medium >= 0.0 && options->medium <= 1000.0))
    return ts_cli_usage (error, "--medium is 0 to 1000 parts to one part of the mix");
  return TRUE;
}

/* The first medium of the set, or -1: then the medium is taken to be clear. */
static int
find_medium (const TsPaintSet *set)
{
  for (guint i = 0; i < ts_paint_set_get_n_paints (set); i++)
    if (ts_paint_get_kind (ts_paint_set_get_paint (set, i)) == TS_PAINT_MEDIUM)
      return (int) i;
  return -1;
}

static void
thin (const TsPaintSet *set, double medium, TsSpectrum *K, TsSpectrum *S)
{
  int index = find_medium (set);
  const TsPaint *paint = index >= 0 ? ts_paint_set_get_paint (set, (guint) index) : NULL;

  for (guint i = 0; i < TS_BANDS; i++)
    {
      double k = paint != NULL ? ts_paint_get_K (paint)->band[i] : 0.0;
      double s = paint != NULL ? ts_paint_get_S (paint)->band[i] : 0.0;

      K->band[i] = (K->band[i] + medium * k) / (1.0 + medium);
      S->band[i] = (S->band[i] + medium * s) / (1.0 + medium);
    }
}

/* A paint of the set as it hides all, or a colour. */
static gboolean
parse_ground (const char *option, const char *over, const TsPaintSet *set, TsSpectrum *ground,
              GError **error)
{
  int index = ts_paint_set_find (set, over);
  TsLab lab;

  if (index >= 0)
    {
      const TsPaint *paint = ts_paint_set_get_paint (set, (guint) index);

      ts_mix_get_masstone (ts_paint_get_K (paint), ts_paint_get_S (paint),
                           ts_paint_set_get_surface (set), ground);
      return TRUE;
    }
  if (!g_ascii_isdigit (*over))
    {
      g_set_error (error, TS_ERROR, TS_ERROR_NOT_FOUND,
                   "%s %s: there is no such paint in the set, and it is no colour L,a,b.", option,
                   over);
      return FALSE;
    }
  return ts_cli_parse_lab (option, over, &lab, error) && ts_spectrum_from_lab (lab, ground, error);
}

/* What lies under the film; white unless told. */
static gboolean
get_ground (const Options *options, const TsPaintSet *set, TsSpectrum *ground, GError **error)
{
  if (options->over != NULL)
    return parse_ground ("--over", options->over, set, ground, error);
  for (guint i = 0; i < TS_BANDS; i++)
    ground->band[i] = 1.0;
  return TRUE;
}

#define SPRAYED_PLACES 3

/* The same coats over the dark end, half way and the light end of a sprayed primer. */
static gboolean
answer_sprayed (const Options *options, const TsPaintSet *set, const TsSpectrum *K,
                const TsSpectrum *S, JsonObject *answer, GString *text, GError **error)
{
  static const char *const names[SPRAYED_PLACES] = { "dark", "half way", "light" };
  g_auto (GStrv) ends = NULL;
  TsSprayed places[SPRAYED_PLACES];
  TsSpectrum dark, light;
  JsonArray *array;

  if (options->sprayed == NULL)
    return TRUE;
  ends = g_strsplit (options->sprayed, ":", -1);
  if (g_strv_length (ends) != 2)
    return ts_cli_usage (error, "--sprayed %s: two primers are wanted, DARK:LIGHT",
                         options->sprayed);
  if (!parse_ground ("--sprayed", ends[0], set, &dark, error) ||
      !parse_ground ("--sprayed", ends[1], set, &light, error))
    return FALSE;
  ts_mix_get_sprayed (K, S, ts_paint_set_get_surface (set), options->coats, &dark, &light, places,
                      SPRAYED_PLACES);
  array = json_array_new ();
  for (int i = 0; i < SPRAYED_PLACES; i++)
    {
      JsonObject *object = json_object_new ();
      TsLab lab = ts_spectrum_to_lab (&places[i].film, TS_LIGHT_D50);

      ts_cli_set_lab (object, "ground_lab_d50",
                      ts_spectrum_to_lab (&places[i].ground, TS_LIGHT_D50));
      ts_cli_set_lab (object, "lab_d50", lab);
      ts_json_set_numbers (object, "reflectance", places[i].film.band, TS_BANDS, 6);
      json_array_add_object_element (array, object);
      g_string_append_printf (text, "  over the primer, %s: ", names[i]);
      ts_cli_append_lab (text, lab);
      g_string_append_c (text, '\n');
    }
  json_object_set_array_member (answer, "sprayed", array);
  return TRUE;
}

static void
mix (const TsPaintSet *set, const TsRecipe *recipe, TsSpectrum *K, TsSpectrum *S)
{
  TsAmount amounts[TS_RECIPE_MAX_PAINTS];

  for (guint i = 0; i < recipe->n_paints; i++)
    amounts[i] = (TsAmount){ recipe->paint[i], recipe->parts[i] };
  ts_mix_get_K_S (set, amounts, recipe->n_paints, K, S);
}

static void
answer_prediction (const TsPaintSet *set, const TsRecipe *recipe, double coats, const TsSpectrum *K,
                   const TsSpectrum *S, const TsSpectrum *reflectance, JsonObject *answer,
                   GString *text)
{
  TsSurfaceReflection surface = ts_paint_set_get_surface (set);
  double ratio = ts_mix_get_contrast_ratio (K, S, surface, coats > 0.0 ? coats : 1.0);
  double hide = ts_mix_get_coats_to_hide (K, S, surface);
  TsLab lab = ts_spectrum_to_lab (reflectance, TS_LIGHT_D50);
  g_autofree char *words = ts_recipe_to_text (set, recipe);

  json_object_set_string_member (answer, "recipe", words);
  ts_cli_set_lab (answer, "lab_d50", lab);
  ts_json_set_numbers (answer, "reflectance", reflectance->band, TS_BANDS, 6);
  ts_json_set_number (answer, "contrast_ratio", ratio, 4);
  ts_json_set_number (answer, "coats_to_hide", hide, 2);
  ts_json_set_number (answer, "error_delta_e_2000", recipe->error, 1);
  g_string_append_printf (text, "%s: ", words);
  ts_cli_append_lab (text, lab);
  g_string_append_printf (text, ", within about dE %.0f. %s hides %.0f %%", recipe->error,
                          coats > 0.0 ? "It" : "One coat", 100.0 * ratio);
  if (isfinite (hide))
    g_string_append_printf (text, "; %.1f coats hide all", hide);
  g_string_append (text, ".\n");
}

gboolean
ts_cli_predict (int argc, char **argv, JsonObject *answer, GString *text, gboolean *json,
                GError **error)
{
  g_auto (Options) options = { .coats = -(double) INFINITY };
  const GOptionEntry entries[] = {
    { "paints", 0, 0, G_OPTION_ARG_FILENAME, &options.paints, "The paint set", "SET.csv" },
    { "recipe", 0, 0, G_OPTION_ARG_STRING, &options.recipe, "Whole parts of its paints",
      "“2 NAME + 1 NAME”" },
    { "over", 0, 0, G_OPTION_ARG_STRING, &options.over,
      "What lies under it: a paint of the set or a colour (white)", "NAME|L,a,b" },
    { "sprayed", 0, 0, G_OPTION_ARG_STRING, &options.sprayed,
      "Also over a primer sprayed dark to light: its two ends, as in --over", "DARK:LIGHT" },
    { "coats", 0, 0, G_OPTION_ARG_DOUBLE, &options.coats,
      "Coats of it; without, it hides all (with --over or --sprayed: 1)", "N" },
    { "medium", 0, 0, G_OPTION_ARG_DOUBLE, &options.medium,
      "Parts of medium to one part of the mix (0)", "P" },
    { "json", 0, 0, G_OPTION_ARG_NONE, json, "Print one JSON object", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (TsPaintSet) set = NULL;
  TsSpectrum K, S, ground, reflectance;
  TsRecipe recipe;

  if (!ts_cli_parse_options (entries, NULL, "Predicts a mix by Kubelka-Munk.", &argc, &argv,
                             error) ||
      !check_options (&options, error))
    return FALSE;
  set = ts_paint_set_load (options.paints, error);
  if (set == NULL || !ts_recipe_parse (set, options.recipe, &recipe, error) ||
      !get_ground (&options, set, &ground, error))
    return FALSE;
  ts_recipe_predict (set, &recipe);
  mix (set, &recipe, &K, &S);
  thin (set, options.medium, &K, &S);
  if (options.coats < 0.0 && (options.over != NULL || options.sprayed != NULL))
    options.coats = 1.0;
  if (options.coats >= 0.0)
    ts_mix_get_film (&K, &S, ts_paint_set_get_surface (set), options.coats, &ground, &reflectance);
  else
    ts_mix_get_masstone (&K, &S, ts_paint_set_get_surface (set), &reflectance);
  answer_prediction (set, &recipe, options.coats, &K, &S, &reflectance, answer, text);
  return answer_sprayed (&options, set, &K, &S, answer, text, error);
}
