/* ts-picture-place-private.h: what the files of the Picture place share
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "gui/picture/ts-beside-view.h"
#include "gui/correction/ts-correction-overlay.h"
#include "gui/correction/ts-correction-panel.h"
#include "gui/curve/ts-curve-view.h"
#include "gui/picture/ts-image-view.h"
#include "gui/stair/ts-mixes-panel.h"
#include "gui/window/ts-picture-place.h"
#include "gui/stair/ts-stair-bar.h"
#include "gui/stair/ts-stair-view.h"
#include "gui/surfaces/ts-surfaces-pane.h"

G_BEGIN_DECLS

struct _TsPicturePlace
{
  TsView parent_instance;

  /* Owned */
  TsHover *hover;
  GSimpleActionGroup *actions;

  /* While the photograph is being corrected */
  TsCorrectionDraft *draft; /* owned, or NULL */
  GtkWidget *overlay;       /* borrowed: a child of the image view, or NULL */

  /* The picture beside */
  GtkStringList *beside_names; /* owned */
  GArray *beside_pictures;     /* owned, guint: index of each name after the looks */
  gboolean listing;            /* names are shown, not chosen */

  /* Template children */
  TsLayout *layout;
  TsImageView *image_view;
  TsBesideView *beside;
  GtkWidget *pictures, *beside_box, *beside_choice;
  TsSurfacesPane *surfaces;
  TsCurveView *curve;
  TsMixesPanel *mixes;
  TsCorrectionPanel *correction_panel;
  TsStairBar *stair_bar;
  TsStairView *stair;
  GtkWidget *bar, *correction, *correction_button, *colour, *own_zoom, *curve_button, *side,
    *surfaces_box, *curve_summary;
  GtkWidget *opening, *opening_text, *opening_bar;
  GtkWidget *hint, *compare, *choice_box, *clipping, *looks_box, *looks_panel, *stair_part;
  GtkWidget *no_surface, *stair_scroller, *step_line, *step_number, *step_role, *step_recipe,
    *step_error;
};

void ts_picture_place_set_state      (TsPicturePlace *self,
                                      const char     *name,
                                      const char     *state);
void ts_picture_place_show_panel     (TsPicturePlace *self,
                                      const char     *name);
/* The picture beside: see ts-picture-place-beside.c. */
void ts_picture_place_add_beside_actions (TsPicturePlace *self);
void ts_picture_place_init_beside    (TsPicturePlace *self);
void ts_picture_place_list_beside    (TsPicturePlace *self);
void ts_picture_place_show_beside    (TsPicturePlace *self);
/* The correction: see ts-picture-place-correct.c. */
void ts_picture_place_add_correction (TsPicturePlace *self);
void ts_picture_place_show_correction (TsPicturePlace *self);
void ts_picture_place_end_correction (TsPicturePlace *self);

G_END_DECLS
