/* ts-document.h: the one changing state: a plan, its pictures, its results, and what is selected
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <gio/gio.h>

#include "image/ts-image.h"
#include "plan/ts-brief-result.h"
#include "plan/ts-finish.h"
#include "plan/ts-plan-defaults.h"

G_BEGIN_DECLS

/* One spot of a surface, by indices. */
typedef struct
{
  guint run;
  guint spot; /* of the run's */
} TsSpotRef;

#define TS_TYPE_DOCUMENT (ts_document_get_type ())

/* Lives on the main thread. Verbs change the plan (each an undoable step), recompute curve, stair and
 * checks at once, and look for mixes on another thread; a later change cancels an earlier search.
 *
 * Properties (all notify): "title" (string), "path" (string, nullable), "saved" (boolean),
 * "has-plan" (boolean), "undo-name", "redo-name" (string, %NULL: nothing to undo), "busy" (boolean: a
 * picture opens or mixes are looked for), "progress" (double 0..1), "busy-text" (string),
 * "selected-surface" (int, -1: none), "selected-step" (int, -1: none), "picture" (int, shown index),
 * "opening" (boolean: a picture or a plan opens, and that takes a while).
 *
 * Signals: "plan-changed" (the plan is another), "results-changed" (uint surface, or G_MAXUINT for
 * all), "image-changed" (pixels of the shown picture are others), "message" (string text, string
 * action-name (nullable), string action-label (nullable)). */
G_DECLARE_FINAL_TYPE (TsDocument, ts_document, TS, DOCUMENT, GObject)

TsDocument      *ts_document_new                (void);

/* Reading what is there; all borrowed. */
const TsPlan    *ts_document_get_plan           (TsDocument           *self);
TsImage         *ts_document_get_image          (TsDocument           *self,
                                                 guint                 picture);
/* A reduced form of the picture that opens, to be looked at meanwhile; %NULL without one. */
TsImage         *ts_document_get_preview        (TsDocument           *self);
gboolean         ts_document_get_opening        (TsDocument           *self);
TsCorrection    *ts_document_get_correction     (TsDocument           *self,
                                                 guint                 picture);
TsSurfaceResult *ts_document_get_result         (TsDocument           *self,
                                                 guint                 surface);
/* Mixes for a line of the brief, nearest first (TsRecipe), or %NULL before the first search. */
const GArray    *ts_document_get_brief_choices  (TsDocument           *self,
                                                 guint                 line);
/* The finished figure against the surface's stair; %NULL where it is not known. */
const TsFinished *ts_document_get_finished      (TsDocument           *self,
                                                 guint                 surface);
/* The finish check as plain text, for a message. */
char            *ts_document_report_finish      (TsDocument           *self);
/* All results, one a surface (elements may be %NULL): for the card. */
const GPtrArray *ts_document_get_results        (TsDocument           *self);
const char      *ts_document_get_problem        (TsDocument           *self,
                                                 guint                 surface);
int              ts_document_get_selected_surface (TsDocument         *self);
int              ts_document_get_selected_step  (TsDocument           *self);
guint            ts_document_get_shown_picture  (TsDocument           *self);
const char      *ts_document_get_path           (TsDocument           *self);
gboolean         ts_document_get_has_plan       (TsDocument           *self);
gboolean         ts_document_get_saved          (TsDocument           *self);
gboolean         ts_document_get_busy           (TsDocument           *self);

/* The paints that a new plan starts with. */
void             ts_document_set_default_paints (TsDocument           *self,
                                                 TsPaintSet           *paints,
                                                 const char           *name);
/* What else a new plan starts with. */
void             ts_document_set_defaults       (TsDocument           *self,
                                                 const TsPlanDefaults *defaults);
/* Those of the plan, or else the ones that a new plan starts with; %NULL without either. */
TsPaintSet      *ts_document_get_paints         (TsDocument           *self);
const char      *ts_document_get_paints_name    (TsDocument           *self);

void             ts_document_select_surface     (TsDocument           *self,
                                                 int                   surface);
void             ts_document_select_step        (TsDocument           *self,
                                                 int                   step);

void             ts_document_show_picture       (TsDocument           *self,
                                                 guint                 picture);

/* Files. A picture starts a plan, or joins the one that is open; a plan replaces it. */
void             ts_document_open               (TsDocument           *self,
                                                 const char           *path,
                                                 GAsyncReadyCallback   callback,
                                                 gpointer              user_data);
/* The photograph of the finished figure, in place of the one before. */
void             ts_document_open_finished      (TsDocument           *self,
                                                 const char           *path,
                                                 GAsyncReadyCallback   callback,
                                                 gpointer              user_data);
gboolean         ts_document_open_finish        (TsDocument           *self,
                                                 GAsyncResult         *result,
                                                 GError              **error);
/* A folder in @folder with copies of the plan, as it is now, and of its pictures; the plan's path
 * in it. The document stays where it is. */
void             ts_document_pack               (TsDocument           *self,
                                                 const char           *folder,
                                                 GAsyncReadyCallback   callback,
                                                 gpointer              user_data);
char            *ts_document_pack_finish        (TsDocument           *self,
                                                 GAsyncResult         *result,
                                                 GError              **error);
gboolean         ts_document_save               (TsDocument           *self,
                                                 const char           *path,
                                                 GError              **error);
/* Stops what is under way. */
void             ts_document_stop               (TsDocument           *self);
void             ts_document_close              (TsDocument           *self);

/* Measures all spots on a picture again, after its file has changed. */
void             ts_document_measure_again      (TsDocument           *self,
                                                 guint                 picture);

/* History. While a gesture is under way its changes are one step with one name. */
void             ts_document_undo               (TsDocument           *self);
void             ts_document_redo               (TsDocument           *self);
void             ts_document_begin_gesture      (TsDocument           *self,
                                                 const char           *name);
void             ts_document_end_gesture        (TsDocument           *self);
/* Ends it without a trace. */
void             ts_document_cancel_gesture     (TsDocument           *self);
gboolean         ts_document_is_in_gesture      (TsDocument           *self);
guint            ts_document_get_n_changes      (TsDocument           *self);

/* Verbs. Indices must be valid; places are upright pixels and are held within the picture. What changes the
 * stair of a surface changes it for all that share it. */
int              ts_document_add_surface        (TsDocument           *self,
                                                 TsPoint               lit,
                                                 TsPoint               shadow);
void             ts_document_add_run            (TsDocument           *self,
                                                 guint                 surface,
                                                 TsPoint               lit,
                                                 TsPoint               shadow);
void             ts_document_move_run_point     (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 run,
                                                 guint                 point,
                                                 TsPoint               place);
void             ts_document_move_run           (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 run,
                                                 double                dx,
                                                 double                dy);
void             ts_document_move_spot          (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 run,
                                                 guint                 spot,
                                                 TsPoint               place);
void             ts_document_remove_spot        (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 run,
                                                 guint                 spot);
void             ts_document_remove_run         (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 run);
/* Several spots of one surface in one step. What would leave the picture stops all of them; with all of
 * a run's, or removing an end, the run itself. */
void             ts_document_move_spots         (TsDocument           *self,
                                                 guint                 surface,
                                                 const TsSpotRef      *spots,
                                                 guint                 n_spots,
                                                 double                dx,
                                                 double                dy);
void             ts_document_remove_spots       (TsDocument           *self,
                                                 guint                 surface,
                                                 const TsSpotRef      *spots,
                                                 guint                 n_spots);
/* A loose outline of a whole surface on the shown picture, read on another thread; -1: a new
 * surface. What the callback finishes is its index, or -1. */
void             ts_document_outline            (TsDocument           *self,
                                                 int                   surface,
                                                 const TsPoint        *points,
                                                 guint                 n_points,
                                                 GAsyncReadyCallback   callback,
                                                 gpointer              user_data);
int              ts_document_outline_finish     (TsDocument           *self,
                                                 GAsyncResult         *result);
void             ts_document_remove_outline     (TsDocument           *self,
                                                 guint                 surface);
void             ts_document_set_polished       (TsDocument           *self,
                                                 guint                 surface,
                                                 gboolean              polished);
/* The finished figure: a surface's run on its photograph, or its outline, which is read on another
 * thread once it has been moved. */
void             ts_document_lay_finish         (TsDocument           *self,
                                                 guint                 surface);
void             ts_document_move_finish_point  (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 run,
                                                 guint                 point,
                                                 TsPoint               place);
const TsOutline *ts_document_get_finish_outline (TsDocument           *self,
                                                 guint                 surface);
void             ts_document_move_finish_outline (TsDocument          *self,
                                                 guint                 surface,
                                                 guint                 corner,
                                                 double                dx,
                                                 double                dy);
void             ts_document_read_finish_outline (TsDocument          *self);
void             ts_document_move_finish        (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 run,
                                                 double                dx,
                                                 double                dy);
/* A picture with the runs on it; the only reference stays. */
void             ts_document_remove_picture     (TsDocument           *self,
                                                 guint                 picture);
void             ts_document_rename_surface     (TsDocument           *self,
                                                 guint                 surface,
                                                 const char           *name);
void             ts_document_remove_surface     (TsDocument           *self,
                                                 guint                 surface);
void             ts_document_move_surface       (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 place);
/* Another like it, after it. */
void             ts_document_copy_surface       (TsDocument           *self,
                                                 guint                 surface);
/* Whether its runs are drawn only while it is selected. */
void             ts_document_set_hidden         (TsDocument           *self,
                                                 guint                 surface,
                                                 gboolean              hidden);
void             ts_document_set_n_steps        (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 n_steps);
/* The fewest that read and blend. */
void             ts_document_set_fewest_steps   (TsDocument           *self,
                                                 guint                 surface);
/* The stair of another surface, or with -1 its own. */
void             ts_document_set_stair_of       (TsDocument           *self,
                                                 guint                 surface,
                                                 int                   of);
/* Of one surface, mm; 0 as the plan has it. */
void             ts_document_set_looked_at      (TsDocument           *self,
                                                 guint                 surface,
                                                 double                distance,
                                                 double                band);
/* Distance and bands follow. */
void             ts_document_set_figure_height  (TsDocument           *self,
                                                 double                height);
void             ts_document_set_touch          (TsDocument           *self,
                                                 guint                 one,
                                                 guint                 other,
                                                 int                   touch);
/* An arrow the way the imagined light falls; one without length takes it away. */
void             ts_document_set_light          (TsDocument           *self,
                                                 guint                 picture,
                                                 TsPoint               from,
                                                 TsPoint               to);
void             ts_document_set_spacing        (TsDocument           *self,
                                                 guint                 surface,
                                                 TsSpacing             spacing);
/* Places a step: its place on the run, and its wanted L*. Spacing becomes by hand. */
void             ts_document_place_step         (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 step,
                                                 double                position,
                                                 double                lightness);
/* A step between @step and the next; merges @step with the next. */
void             ts_document_add_step           (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 step);
void             ts_document_merge_step         (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 step);
/* The whole of the stair's settings at once (range, light, shadow). */
void             ts_document_set_stair          (TsDocument           *self,
                                                 guint                 surface,
                                                 const TsStairSettings *settings,
                                                 const char           *name);
void             ts_document_lock_recipe        (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 step,
                                                 const TsRecipe       *recipe);
void             ts_document_unlock_recipe      (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 step);
/* A step and something more: @parts of @paint to its mix. */
void             ts_document_add_accent         (TsDocument           *self,
                                                 guint                 surface,
                                                 const char           *name,
                                                 guint                 step,
                                                 guint                 paint,
                                                 guint                 parts);
void             ts_document_set_accent_parts   (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 accent,
                                                 guint                 parts);
void             ts_document_remove_accent      (TsDocument           *self,
                                                 guint                 surface,
                                                 guint                 accent);
void             ts_document_set_paints         (TsDocument           *self,
                                                 TsPaintSet           *paints,
                                                 const char           *name);
void             ts_document_set_stock          (TsDocument           *self,
                                                 guint                 paint,
                                                 TsStock               stock);
/* Other mixes for all that were kept and need a paint that is out. */
void             ts_document_replace_out        (TsDocument           *self);
void             ts_document_set_mix            (TsDocument           *self,
                                                 const TsMixSettings  *settings);
/* A paint's part in mixes, for the whole plan. */
void             ts_document_set_rule           (TsDocument           *self,
                                                 const char           *paint,
                                                 TsPaintRule           rule);
void             ts_document_clear_rules        (TsDocument           *self);
/* How the recipes of a stair are chosen; @most_paints: bottles in all, 0 for as many as pay. */
void             ts_document_set_together       (TsDocument           *self,
                                                 guint                 surface,
                                                 TsTogether            together,
                                                 guint                 most_paints);
/* What is to be painted: mm2 and coats of each step; 0 where it is not said. */
void             ts_document_set_work           (TsDocument           *self,
                                                 guint                 surface,
                                                 double                area,
                                                 double                coats);
/* Whether the mixing card has the order of work of every surface. */
void             ts_document_set_card_work      (TsDocument           *self,
                                                 gboolean              work);
/* Ticks a thing of the order of work (ts_work_to_key()) off, or takes the tick back. */
void             ts_document_tick_work          (TsDocument           *self,
                                                 guint                 surface,
                                                 const char           *key,
                                                 gboolean              done);
void             ts_document_set_contrast       (TsDocument           *self,
                                                 const TsContrastSettings *settings);
void             ts_document_set_title          (TsDocument           *self,
                                                 const char           *title);
gboolean         ts_document_set_correction     (TsDocument           *self,
                                                 guint                 picture,
                                                 const TsCorrectionSettings *settings,
                                                 GError              **error);
/* The same where @correction has been worked out from @settings. */
gboolean         ts_document_take_correction    (TsDocument           *self,
                                                 guint                 picture,
                                                 const TsCorrectionSettings *settings,
                                                 TsCorrection         *correction,
                                                 GError              **error);
/* @to is corrected as @from, another photograph of the same shoot. */
gboolean         ts_document_share_correction   (TsDocument           *self,
                                                 guint                 from,
                                                 guint                 to,
                                                 GError              **error);
/* An 18 % grey card lies at @place. */
gboolean         ts_document_place_card         (TsDocument           *self,
                                                 guint                 picture,
                                                 TsPoint               place,
                                                 GError              **error);
/* Takes an array of TsBriefLine. */
void             ts_document_set_brief          (TsDocument           *self,
                                                 GPtrArray            *lines,
                                                 const char           *name);
/* TsBriefResult of all lines; valid until the plan changes. */
GArray          *ts_document_get_brief_results  (TsDocument           *self);
/* A line with a colour typed, or measured off a picture; its index, or -1. */
guint            ts_document_add_brief_line     (TsDocument           *self,
                                                 TsLab                 lab);
int              ts_document_measure_brief_line (TsDocument           *self,
                                                 guint                 picture,
                                                 TsPoint               place,
                                                 GError              **error);
void             ts_document_set_brief_line     (TsDocument           *self,
                                                 guint                 index,
                                                 const char           *name,
                                                 TsLab                 lab,
                                                 double                tolerance);
void             ts_document_remove_brief_line  (TsDocument           *self,
                                                 guint                 index);
void             ts_document_lock_brief_line    (TsDocument           *self,
                                                 guint                 index,
                                                 const TsRecipe       *recipe);

G_END_DECLS
