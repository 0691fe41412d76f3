/* ts-card-private.h: what a mixing card says, for the files that lay it out and save it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "card/ts-card.h"

G_BEGIN_DECLS

#define TS_CARD_N_FACTS 4

/* A step and something more. */
typedef struct
{
  TsLab  lab;
  gboolean known;
  char  *text; /* "lip: + 1 Signal Red" */
} TsCardAccent;

/* One step's column. */
typedef struct
{
  TsLab   wanted, mixed;
  char   *lightness; /* "L* 46" */
  char   *value;     /* "value 4.5" */
  gboolean is_base;
  char   *role;      /* or NULL */
  GStrv   parts;     /* "2", "Deep Teal", ... by turns */
  char   *sure;      /* "within about dE 3", or how far out of reach */
  gboolean out_of_reach;
  GPtrArray *accents; /* TsCardAccent */
} TsCardStep;

/* One line of the order of work. */
typedef struct
{
  char    *step; /* "Step 4" */
  char    *text;
  gboolean done; /* all of it is ticked off */
} TsCardWork;

typedef struct
{
  char       *letter;
  char       *name;
  char       *summary;
  guint       n_steps;
  TsCardStep  step[TS_STAIR_MAX_STEPS];
  TsVerdict   verdict[TS_STAIR_MAX_STEPS]; /* n_steps - 1 */
  TsPoint     lit, shadow;                 /* of its first run, as shares of the picture */
  gboolean    on_picture;
  GPtrArray  *work;                        /* TsCardWork; empty: it is left out */
} TsCardSurface;

/* Where one part of the card stands: -1 the head, -2 the cautions, then the surfaces, then the order of
 * work of each. */
#define TS_CARD_HEAD     -1
#define TS_CARD_CAUTIONS -2

typedef struct
{
  int    what;
  guint  page;
  double y; /* points */
} TsCardBlock;

struct _TsCard
{
  char            *title, *subtitle;
  char            *fact_name[TS_CARD_N_FACTS], *fact[TS_CARD_N_FACTS];
  char            *advice, *footer;
  GPtrArray       *cautions; /* char * */
  GPtrArray       *surfaces; /* TsCardSurface */
  cairo_surface_t *picture;  /* or NULL */
  double           width, height;
  GArray          *blocks; /* TsCardBlock */
  guint            n_pages;
  char            *csv;
};

/* Sets where each part stands, and the number of pages. */
void        ts_card_lay_out     (TsCard           *self);
/* One part, its top left corner at x, y; returns its height. With @cr of a recording surface this
 * only measures. */
double      ts_card_draw_head     (const TsCard        *self,
                                   cairo_t             *cr,
                                   double               x,
                                   double               y,
                                   double               width);
double      ts_card_draw_surface  (const TsCardSurface *surface,
                                   cairo_t             *cr,
                                   double               x,
                                   double               y,
                                   double               width);
double      ts_card_draw_work     (const TsCardSurface *surface,
                                   cairo_t             *cr,
                                   double               x,
                                   double               y,
                                   double               width);
double      ts_card_draw_cautions (const TsCard        *self,
                                   cairo_t             *cr,
                                   double               x,
                                   double               y,
                                   double               width);

/* Text: returns its height; @width below 0 does not wrap. */
typedef enum
{
  TS_CARD_TEXT_LEFT,
  TS_CARD_TEXT_RIGHT,
  TS_CARD_TEXT_MIDDLE
} TsCardAlign;

double      ts_card_text          (cairo_t             *cr,
                                   const char          *text,
                                   double               x,
                                   double               y,
                                   double               width,
                                   double               size,
                                   gboolean             bold,
                                   double               grey,
                                   TsCardAlign          align);
double      ts_card_text_width    (cairo_t             *cr,
                                   const char          *text,
                                   double               size,
                                   gboolean             bold);
/* Adds to @text after a space; it may be %NULL before. */
void        ts_card_append_sentence (char             **text,
                                   const char          *sentence);
void        ts_card_rule          (cairo_t             *cr,
                                   double               x,
                                   double               y,
                                   double               width);

G_END_DECLS
