/* ts-plan.h: everything the painter has decided and measured, as one value
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "checks/ts-check-contrast.h"
#include "palette/ts-joint.h"
#include "paint/ts-paint-set.h"
#include "plan/ts-accent.h"
#include "plan/ts-correction-settings.h"
#include "spots/ts-outline.h"
#include "recipes/ts-paint-rules.h"
#include "spots/ts-run.h"
#include "steps/ts-stair.h"

G_BEGIN_DECLS

typedef enum
{
  TS_ROLE_REFERENCE, /* painted from */
  TS_ROLE_FINISHED   /* the painted figure */
} TsPictureRole;

typedef struct
{
  char                 *path;   /* absolute */
  char                 *sha256; /* of the file when it was measured, lower-case hex */
  guint64               size;   /* of the file, bytes */
  TsPictureRole         role;
  TsCorrectionSettings  correction;
  gboolean              has_light;            /* the painter has said where the light is */
  TsPoint               light_from, light_to; /* an arrow the way the light falls */
  gpointer              extra;  /* members of a newer version, kept as they were */
} TsPicture;

/* One run with the spots measured along it. A moved spot keeps its own place. */
typedef struct
{
  guint    picture;  /* index */
  GArray  *points;   /* TsPoint, 2 or more, lit end first */
  double   radius;   /* of its spots, upright pixels */
  GArray  *spots;    /* TsSpot */
  gpointer extra;
} TsRun;

/* A loose outline of a whole surface, and what was read within it. */
typedef struct
{
  guint    picture;  /* index */
  GArray  *points;   /* TsPoint, 3 or more */
  GArray  *tones;    /* TsTone, lightest first, equal shares of the area; none before it is read */
  guint    pixels;
  double   left_out; /* share of them that seemed to be something else, 0..1 */
  gpointer extra;
} TsOutline;

typedef struct
{
  char            *name;
  gboolean         polished;                       /* light-dark-light: no rule of shape */
  gboolean         hidden;
  GPtrArray       *runs;                           /* TsRun */
  TsStairSettings  stair;
  char            *locked[TS_STAIR_MAX_STEPS];     /* recipe of a step as text, or %NULL */
  double           band;                           /* mm, width of a step's band; 0: the plan's */
  double           distance;                       /* mm, from the eye; 0: the plan's */
  TsOutline       *outline;                        /* or %NULL */
  TsOutline       *finish_outline;                 /* on the finished figure's photograph, or %NULL */
  int              stair_of;                       /* index of the surface whose stair it uses, or -1 */
  TsTogether       together;                       /* how its recipes are chosen */
  guint            most_paints;                    /* bottles chosen for the stair; 0: the plan's */
  double           area;                           /* mm2, to be painted; 0: not said */
  double           coats;                          /* of each step; 0: not said */
  GPtrArray       *accents;                        /* TsAccent */
  char           **done;                           /* ticked off its order of work: ts_work_to_key(); or %NULL */
  gpointer         extra;
} TsSurface;

typedef struct
{
  char    *name;
  TsLab    lab;
  double   tolerance; /* CIEDE2000 */
  char    *locked;    /* recipe as text, or %NULL */
  double   radius;    /* of the spot that it was measured with, upright pixels; 0: it was not */
  guint    picture;   /* index of the picture that the spot is on */
  double   x, y;      /* its middle */
  gpointer extra;
} TsBriefLine;

/* One surface's run laid on the finished figure's photograph. */
typedef struct
{
  guint    surface; /* index */
  TsRun   *run;
  gpointer extra;
} TsFinishRun;

/* Whether two surfaces touch, where the painter has said so. */
typedef struct
{
  guint    one, other; /* indices, one < other */
  gboolean touch;
} TsTouch;

/* Limits of the search for mixes. */
typedef struct
{
  guint  max_paints; /* in one mix */
  guint  max_parts;
  double reach;      /* CIEDE2000 */
  guint  most_paints; /* unlike ones in a whole stair; 0: as many as it takes */
  gboolean opaque_only; /* only mixes that two coats hide with */
  double thinning;   /* parts of medium to one of paint as it is brushed; 0: none */
  double drop;       /* mm3 of one drop */
} TsMixSettings;

/* A plan is counted, and never changed once it has been given away: a change is made to a copy.
 * Members may be read directly. */
typedef struct
{
  char               *title;
  char               *notes;
  double              figure_height; /* mm */
  GPtrArray          *pictures;      /* TsPicture */
  GPtrArray          *surfaces;      /* TsSurface */
  GPtrArray          *brief;         /* TsBriefLine */
  GPtrArray          *finish;        /* TsFinishRun */
  GArray             *touching;      /* TsTouch, what was said; see ts_plan_set_touch() */
  TsPaintSet         *paints;        /* or %NULL */
  char               *paints_name;   /* what the set is called, or %NULL */
  TsMixSettings       mix;
  TsPaintRules       *rules;         /* of paints in mixes, or %NULL */
  char               *medium;        /* that paint is thinned with: its name, or %NULL */
  TsContrastSettings  contrast;
  gboolean            card_work;     /* the mixing card has the order of work of every surface */
  gpointer            extra;
} TsPlan;

TsPlan      *ts_plan_new            (void);
/* A deep copy to be changed; the paint set is shared. */
TsPlan      *ts_plan_copy           (const TsPlan       *self);
TsPlan      *ts_plan_ref            (TsPlan             *self);
void         ts_plan_unref          (TsPlan             *self);

TsPicture   *ts_plan_get_picture    (const TsPlan       *self,
                                     guint               index);
TsSurface   *ts_plan_get_surface    (const TsPlan       *self,
                                     guint               index);
TsBriefLine *ts_plan_get_brief_line (const TsPlan       *self,
                                     guint               index);
/* The surface whose spots and steps @index has: its own, or those of the one whose stair it uses. */
TsSurface   *ts_plan_get_stair_source (const TsPlan     *self,
                                       guint             index);
guint        ts_plan_get_stair_index (const TsPlan      *self,
                                      guint              index);
/* Away with a surface, or to another place; all that counts surfaces follows. */
void         ts_plan_remove_surface (TsPlan             *self,
                                     guint               index);
void         ts_plan_move_surface   (TsPlan             *self,
                                     guint               from,
                                     guint               to);
/* Away with a picture and with what lies on it; all that counts pictures follows. */
void         ts_plan_remove_picture (TsPlan             *self,
                                     guint               index);
/* Where what stood at @index is once an element has moved. */
guint        ts_plan_moved_index    (guint               index,
                                     guint               from,
                                     guint               to);
/* What was said of a pair: 1 they touch, 0 they do not, -1 nothing. */
int          ts_plan_get_touch      (const TsPlan       *self,
                                     guint               one,
                                     guint               other);
/* Says it, or with -1 takes it back. */
void         ts_plan_set_touch      (TsPlan             *self,
                                     guint               one,
                                     guint               other,
                                     int                 touch);
/* Index of the first picture of a role, or -1. */
int          ts_plan_find_picture   (const TsPlan       *self,
                                     TsPictureRole       role);

TsPicture   *ts_picture_new         (const char         *path,
                                     TsPictureRole       role);
void         ts_picture_free        (TsPicture          *picture);
TsRun       *ts_run_new             (guint               picture,
                                     const TsPoint      *points,
                                     guint               n_points,
                                     double              radius);
TsRun       *ts_run_copy            (const TsRun        *run);
void         ts_run_free            (TsRun              *run);
/* A surface without runs: 7 steps of equal lightness. */
TsSurface   *ts_surface_new         (const char         *name);
TsSurface   *ts_surface_copy        (const TsSurface    *surface);
void         ts_surface_free        (TsSurface          *surface);
TsRun       *ts_surface_get_run     (const TsSurface    *surface,
                                     guint               index);
/* Whether it has spots, or an outline that was read. */
gboolean     ts_surface_is_measured (const TsSurface    *surface);
TsOutline   *ts_outline_new         (guint               picture,
                                     const TsPoint      *points,
                                     guint               n_points);
TsOutline   *ts_outline_copy        (const TsOutline    *outline);
void         ts_outline_free        (TsOutline          *outline);
TsBriefLine *ts_brief_line_new      (const char         *name,
                                     TsLab               lab,
                                     double              tolerance);
TsBriefLine *ts_brief_line_copy     (const TsBriefLine  *line);
void         ts_brief_line_free     (TsBriefLine        *line);
TsFinishRun *ts_finish_run_new      (guint               surface,
                                     TsRun              *run);
void         ts_finish_run_free     (TsFinishRun        *finish);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsPlan, ts_plan_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsSurface, ts_surface_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsRun, ts_run_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsOutline, ts_outline_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsPicture, ts_picture_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsBriefLine, ts_brief_line_free)

G_END_DECLS
