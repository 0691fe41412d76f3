/* ts-cli.h: what the verbs of tonestair-cli share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <json-glib/json-glib.h>

#include "plan/ts-pipeline.h"

G_BEGIN_DECLS

/* Exit status of the program. */
enum
{
  TS_CLI_DONE = 0,
  TS_CLI_REFUSED = 1, /* the input was refused or could not be read */
  TS_CLI_USAGE = 2    /* the words of the command are wrong */
};

/* For faults of usage; every other domain is a refused input. */
#define TS_CLI_ERROR (ts_cli_error_quark ())

GQuark ts_cli_error_quark (void);

/* A verb reads its words from @argv (argv[0] is the verb) and fills @answer, the JSON object that
 * --json prints, and @text, what is printed without it. */
typedef gboolean (*TsCliFunc) (int          argc,
                               char       **argv,
                               JsonObject  *answer,
                               GString     *text,
                               gboolean    *json,
                               GError     **error);

gboolean ts_cli_brief     (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_calibrate (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_card      (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_check     (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_curve     (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_measure   (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_mix       (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_pack      (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_palette   (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_paints    (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_predict   (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_sheet     (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);
gboolean ts_cli_stair     (int argc, char **argv, JsonObject *answer, GString *text,
                           gboolean *json, GError **error);

/* Options. */
gboolean       ts_cli_parse_options  (const GOptionEntry *entries,
                                      const char         *operand,
                                      const char         *summary,
                                      int                *argc,
                                      char             ***argv,
                                      GError            **error);
gboolean       ts_cli_usage          (GError            **error,
                                      const char         *format,
                                      ...) G_GNUC_PRINTF (2, 3);
/* @least to @most numbers with commas between. */
gboolean       ts_cli_parse_numbers  (const char         *option,
                                      const char         *text,
                                      double             *numbers,
                                      guint               least,
                                      guint               most,
                                      guint              *n,
                                      GError            **error);
gboolean       ts_cli_parse_lab      (const char         *option,
                                      const char         *text,
                                      TsLab              *lab,
                                      GError            **error);
/* X,Y:X,Y[:X,Y...]: a new array of TsPoint. */
GArray        *ts_cli_parse_points   (const char         *option,
                                      const char         *text,
                                      GError            **error);
gboolean       ts_cli_check_range    (const char         *option,
                                      int                 value,
                                      int                 least,
                                      int                 most,
                                      GError            **error);
gboolean       ts_cli_check_output   (const char         *option,
                                      const char         *out,
                                      const char *const  *others,
                                      guint               n_others,
                                      GError            **error);

/* The correction of a photograph. */
typedef struct
{
  char   **grey;
  char    *chart;
  char    *reference;
  char    *from;
  char    *match;
  gboolean guess;
} TsCliCorrection;

#define TS_CLI_CORRECTION_ENTRIES(self) \
  { "grey", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(self).grey, \
    "Correct by a neutral card of lightness L (49.5); repeated, by several: black, grey, white", \
    "X,Y,R[,L]" }, \
  { "chart", 0, 0, G_OPTION_ARG_STRING, &(self).chart, \
    "Correct by a 24-patch chart: centres of its corner patches, clockwise from patch 1", \
    "X,Y:X,Y:X,Y:X,Y" }, \
  { "chart-reference", 0, 0, G_OPTION_ARG_STRING, &(self).reference, \
    "Its colours: a CGATS file, “earlier” or “later”", "FILE" }, \
  { "from", 0, 0, G_OPTION_ARG_FILENAME, &(self).from, \
    "The chart or the cards lie in this other photograph of the shoot; or a plan, to correct as it " \
    "does", "FILE" }, \
  { "match", 0, 0, G_OPTION_ARG_STRING, &(self).match, \
    "One grey card in that photograph and in this one, where the exposure differs", \
    "X,Y,R:X,Y,R" }, \
  { "guess", 0, 0, G_OPTION_ARG_NONE, &(self).guess, \
    "Take out the light's colour as guessed from the picture alone", NULL }

void           ts_cli_correction_clear (TsCliCorrection        *self);
gboolean       ts_cli_correction_parse (const TsCliCorrection  *self,
                                        TsCorrectionSettings   *settings,
                                        GError                **error);

/* --use, --leave-out, --must-hold and --opaque-only: what a mix may be. */
typedef struct
{
  char   **use;
  char   **leave_out;
  char   **must_hold;
  gboolean opaque_only;
} TsCliLimits;

#define TS_CLI_LIMITS_ENTRIES(limits) \
  { "use", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(limits).use, \
    "Use only the paints named so, whatever their kind and stock", "NAME" }, \
  { "leave-out", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(limits).leave_out, \
    "Leave this paint out; may be repeated", "NAME" }, \
  { "must-hold", 0, 0, G_OPTION_ARG_STRING_ARRAY, &(limits).must_hold, \
    "Every mix must hold this paint; may be repeated", "NAME" }, \
  { "opaque-only", 0, 0, G_OPTION_ARG_NONE, &(limits).opaque_only, \
    "Only mixes of which two coats hide what is under them", NULL }

void           ts_cli_limits_clear     (TsCliLimits            *self);
gboolean       ts_cli_limits_get_rules (const TsCliLimits      *self,
                                        const TsPaintSet       *set,
                                        TsPaintRules          **rules,
                                        GError                **error);

/* Pieces of answers. */
void           ts_cli_answer_advice   (const GArray            *advice,
                                       guint                    n_targets,
                                       JsonObject              *answer,
                                       GString                 *text);
void           ts_cli_answer_sequence (const TsPaintSet        *set,
                                       const TsMixingSequence  *sequence,
                                       const char              *medium,
                                       JsonObject              *answer,
                                       GString                 *text);
JsonObject    *ts_cli_build_joint     (const TsPaintSet        *set,
                                       const TsJointPlan       *plan);
void           ts_cli_set_lab         (JsonObject              *object,
                                       const char              *member,
                                       TsLab                    lab);
JsonObject    *ts_cli_build_spot      (const TsSpot            *spot,
                                       const TsCorrection      *correction,
                                       gboolean                 on_run);
/* Reads the surface within the corners X,Y:X,Y:X,Y[:X,Y...]. */
TsOutline     *ts_cli_read_outline    (const char              *text,
                                       const TsImage           *image,
                                       const TsCorrection      *correction,
                                       GError                 **error);
JsonObject    *ts_cli_build_outline   (const TsOutline         *outline);
JsonObject    *ts_cli_build_recipe    (const TsPaintSet        *set,
                                       const TsRecipe          *recipe);
JsonObject    *ts_cli_build_target    (const TsPaintSet        *set,
                                       TsLab                    target,
                                       const TsRecipe          *recipes,
                                       guint                    n_recipes,
                                       double                   reach);
void           ts_cli_set_curve       (JsonObject              *answer,
                                       const TsCurve           *curve);
void           ts_cli_set_steps       (JsonObject              *answer,
                                       const TsStair           *stair);
void           ts_cli_set_checks      (JsonObject              *answer,
                                       const TsSurfaceResult   *result);
void           ts_cli_set_correction  (JsonObject              *answer,
                                       const TsCorrection      *correction,
                                       const TsChartReading    *reading);
void           ts_cli_append_lab      (GString                 *text,
                                       TsLab                    lab);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TsCliCorrection, ts_cli_correction_clear)

/* Accents as they are written, "NAME,STEP,PARTS PAINT", and the answer about them. */
gboolean    ts_cli_parse_accents    (char                 **texts,
                                     const TsPaintSet      *paints,
                                     TsSurface             *surface,
                                     GError               **error);
void        ts_cli_answer_accents   (const TsSurface       *surface,
                                     const TsSurfaceResult *result,
                                     JsonObject            *object,
                                     GString               *text);

G_END_DECLS
