/* ts-lab-box.c: boxes in CIELAB, and how near to a colour they can come
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The lower bound is CIEDE2000 itself (ISO/CIE 11664-6, in the names of Sharma, Wu and Dalal 2005)
 * carried out with intervals: every quantity is replaced by a range that holds all its values over
 * the box, so the least value of the last range is below every difference.
 */
#include "recipes/ts-lab-box.h"

#include <math.h>

#define ROUNDING 1e-9 /* far above what a dozen operations lose, far below what matters */
#define FEW_CUTS 4    /* parts a side is cut into when narrowing */
#define MANY_CUTS 16
#define WORTH 0.85 /* goes on while the box's volume falls to this share */
#define LOOSE 400  /* volume over radius^3 from which finer cuts are worth their time */
#define MOST_TURNS 40

/* Bounds on T = 1 - 0.17 cos .. + 0.24 cos .. + 0.32 cos .. - 0.20 cos ..: the amplitudes' sum, and
 * the sum of amplitude times frequency as its steepest slope. */
#define T_AMPLITUDE 0.93
#define T_SLOPE (0.17 + 2.0 * 0.24 + 3.0 * 0.32 + 4.0 * 0.20)

typedef struct
{
  double low, high;
} Range;

/* What of the formula depends on the mean hue. */
typedef struct
{
  Range T, turn; /* turn: the sine of twice the rotation angle */
} HueTerms;

static Range
range (double low, double high)
{
  return (Range){ low, high };
}

static double
least_size (Range x)
{
  return x.low > 0.0 ? x.low : x.high < 0.0 ? -x.high : 0.0;
}

static double
most_size (Range x)
{
  return MAX (fabs (x.low), fabs (x.high));
}

static gboolean
holds_zero (Range x)
{
  return x.low <= 0.0 && x.high >= 0.0;
}

/* Both factors' ranges, @factor above 0. */
static Range
scaled (Range x, Range factor)
{
  return range (x.low * (x.low < 0.0 ? factor.high : factor.low),
                x.high * (x.high < 0.0 ? factor.low : factor.high));
}

static Range
divided (Range x, Range divisor)
{
  return scaled (x, range (1.0 / divisor.high, 1.0 / divisor.low));
}

static Range
distance_from_axis (Range a, Range b)
{
  return range (hypot (least_size (a), least_size (b)), hypot (most_size (a), most_size (b)));
}

static Range
mean (Range x, Range y)
{
  return range (0.5 * (x.low + y.low), 0.5 * (x.high + y.high));
}

/* sqrt (C^7 / (C^7 + 25^7)), rising. */
static double
chroma_share (double C)
{
  double cube = C * C * C;
  double power = cube * cube * C;

  return sqrt (power / (power + 6103515625.0));
}

/* To -pi..pi. */
static double
wrapped (double angle)
{
  return angle - 2.0 * G_PI * round (angle / (2.0 * G_PI));
}

/* Angles under which a rectangle is seen from the origin, about @middle; FALSE where it holds the
 * origin and all angles occur. A rectangle outside it fills less than half a turn. */
static gboolean
get_angles (Range a, Range b, double *middle, Range *angles)
{
  const double as[2] = { a.low, a.high };
  const double bs[2] = { b.low, b.high };

  if (holds_zero (a) && holds_zero (b))
    return FALSE;
  *middle = atan2 (0.5 * (b.low + b.high), 0.5 * (a.low + a.high));
  *angles = range (0.0, 0.0);
  for (guint i = 0; i < 4; i++)
    {
      double angle = wrapped (atan2 (bs[i / 2], as[i % 2]) - *middle);

      angles->low = MIN (angles->low, angle);
      angles->high = MAX (angles->high, angle);
    }
  return TRUE;
}

/* 275 degrees is where the ellipses are turned most, by 30 degrees; it falls off like a bell of
 * width 25 degrees. Distances are taken round the circle, which at the far side errs by 1e-5. */
static HueTerms
get_hue_terms (double h, double spread)
{
  double T = 1.0 - 0.17 * cos (h - G_PI / 6.0) + 0.24 * cos (2.0 * h) +
             0.32 * cos (3.0 * h + G_PI / 30.0) - 0.20 * cos (4.0 * h - 0.35 * G_PI);
  double away = fabs (wrapped (h - 275.0 * G_PI / 180.0)) * 180.0 / G_PI;
  double width = spread * 180.0 / G_PI;
  double nearest = MAX (0.0, away - width) / 25.0;
  double farthest = MIN (180.0, away + width) / 25.0;
  double most = sin (G_PI / 3.0 * exp (-nearest * nearest));
  double least = sin (G_PI / 3.0 * exp (-farthest * farthest));

  return (HueTerms){
    range (MAX (1.0 - T_AMPLITUDE, T - T_SLOPE * spread),
           MIN (1.0 + T_AMPLITUDE, T + T_SLOPE * spread)),
    range (MAX (0.0, least - 1e-4), most),
  };
}

static double
form_at (double x, double y, double turn)
{
  return x * x + y * y - turn * x * y;
}

/* Least of x^2 + y^2 - turn x y, which is convex with its least at 0: 0 or on an edge. */
static double
least_form (Range x, Range y, double turn)
{
  double least;

  if (holds_zero (x) && holds_zero (y))
    return 0.0;
  least = form_at (x.low, CLAMP (0.5 * turn * x.low, y.low, y.high), turn);
  least = MIN (least, form_at (x.high, CLAMP (0.5 * turn * x.high, y.low, y.high), turn));
  least = MIN (least, form_at (CLAMP (0.5 * turn * y.low, x.low, x.high), y.low, turn));
  least = MIN (least, form_at (CLAMP (0.5 * turn * y.high, x.low, x.high), y.high, turn));
  return MAX (0.0, least);
}

/* The squares of the differences of chroma and hue add up to the squared distance in the plane, and
 * x^2 + y^2 - turn x y is at least (1 - turn / 2) (x^2 + y^2). Good where the hue says nothing. */
static double
least_by_distance (Range a1, Range b1, Range a2, Range b2, double weight, double turn)
{
  double a = least_size (range (a2.low - a1.high, a2.high - a1.low));
  double b = least_size (range (b2.low - b1.high, b2.high - b1.low));

  return MAX (0.0, 1.0 - 0.5 * turn) * (a * a + b * b) / (weight * weight);
}

/* Chroma and hue part of the squared difference between a colour (a1, b1) and a rectangle (a2, b2),
 * all with a already stretched. */
static double
least_chromatic (Range a1, Range b1, Range a2, Range b2)
{
  Range C1 = distance_from_axis (a1, b1);
  Range C2 = distance_from_axis (a2, b2);
  Range C = mean (C1, C2);
  Range root = range (2.0 * sqrt (C1.low * C2.low), 2.0 * sqrt (C1.high * C2.high));
  Range SC = range (1.0 + 0.045 * C.low, 1.0 + 0.045 * C.high);
  Range x = divided (range (C2.low - C1.high, C2.high - C1.low), SC);
  Range sine = range (-1.0, 1.0);
  double h = 0.0, spread = G_PI;
  double h1, h2;
  Range angles1, angles2, y, SH;
  HueTerms terms;

  if (get_angles (a1, b1, &h1, &angles1) && get_angles (a2, b2, &h2, &angles2))
    {
      double way = wrapped (h2 - h1);
      double low = way + angles2.low - angles1.high;
      double high = way + angles2.high - angles1.low;

      /* Where the short way round may be either one, all hues and both signs stay possible. */
      if (low > -G_PI && high < G_PI)
        {
          sine = range (sin (0.5 * low), sin (0.5 * high));
          h = h1 + 0.5 * way;
          spread = 0.5 * (MAX (-angles1.low, angles1.high) + MAX (-angles2.low, angles2.high));
        }
    }
  terms = get_hue_terms (h, spread);
  SH = range (1.0 + 0.015 * C.low * terms.T.low, 1.0 + 0.015 * C.high * terms.T.high);
  y = divided (scaled (sine, root), SH);
  {
    Range turn = range (2.0 * chroma_share (C.low) * terms.turn.low,
                        2.0 * chroma_share (C.high) * terms.turn.high);
    double direct = MIN (least_form (x, y, turn.low), least_form (x, y, turn.high));

    return MAX (direct, least_by_distance (a1, b1, a2, b2, MAX (SC.high, SH.high), turn.high));
  }
}

static double
lightness_weight (double L)
{
  double square = (L - 50.0) * (L - 50.0);

  return 1.0 + 0.015 * square / sqrt (20.0 + square);
}

/**
 * ts_lab_box_least_delta_e:
 * @self: a box in CIELAB
 * @target: a colour
 *
 * Returns: a number that no CIEDE2000 between @target and a colour of the box lies below; exact in
 *   the limit of a small box
 */
double
ts_lab_box_least_delta_e (const TsLabBox *self, TsLab target)
{
  Range L = range (self->low[0] - target.L, self->high[0] - target.L);
  Range a = range (self->low[1], self->high[1]);
  Range b = range (self->low[2], self->high[2]);
  Range target_b = range (target.b, target.b);
  double C = hypot (target.a, target.b);
  Range mean_C = mean (range (C, C), distance_from_axis (a, b));
  Range stretch =
    range (1.5 - 0.5 * chroma_share (mean_C.high), 1.5 - 0.5 * chroma_share (mean_C.low));
  /* The weight of lightness rises away from 50, so it is largest at an end. */
  double weight =
    MAX (lightness_weight (target.L + 0.5 * L.low), lightness_weight (target.L + 0.5 * L.high));
  double lightness = least_size (L) / weight;
  double chromatic = least_chromatic (scaled (range (target.a, target.a), stretch), target_b,
                                      scaled (a, stretch), b);

  return MAX (0.0, sqrt (lightness * lightness + chromatic) - ROUNDING);
}

static TsLabBox
get_piece (const TsLabBox *box, const guint index[3], guint cuts)
{
  TsLabBox piece;

  for (guint c = 0; c < 3; c++)
    {
      double side = (box->high[c] - box->low[c]) / cuts;

      piece.low[c] = index[c] == 0 ? box->low[c] : box->low[c] + side * index[c];
      piece.high[c] = index[c] + 1 == cuts ? box->high[c] : box->low[c] + side * (index[c] + 1);
    }
  return piece;
}

static gboolean
is_inside (const TsLabBox *piece, const TsLabBox *box)
{
  for (guint c = 0; c < 3; c++)
    if (piece->low[c] < box->low[c] || piece->high[c] > box->high[c])
      return FALSE;
  return TRUE;
}

static void
extend (TsLabBox *box, const TsLabBox *piece)
{
  for (guint c = 0; c < 3; c++)
    {
      box->low[c] = MIN (box->low[c], piece->low[c]);
      box->high[c] = MAX (box->high[c], piece->high[c]);
    }
}

static double
volume (const TsLabBox *box)
{
  double product = 1.0;

  for (guint c = 0; c < 3; c++)
    product *= MAX (0.0, box->high[c] - box->low[c]);
  return product;
}

/* The hull of the pieces that may hold a colour near enough; empty where none does. */
static TsLabBox
narrow_once (const TsLabBox *box, TsLab target, double radius, guint cuts)
{
  TsLabBox hull = { { G_MAXDOUBLE, G_MAXDOUBLE, G_MAXDOUBLE },
                    { -G_MAXDOUBLE, -G_MAXDOUBLE, -G_MAXDOUBLE } };

  for (guint i = 0; i < cuts * cuts * cuts; i++)
    {
      const guint index[3] = { i / (cuts * cuts), i / cuts % cuts, i % cuts };
      TsLabBox piece = get_piece (box, index, cuts);

      if (!is_inside (&piece, &hull) && ts_lab_box_least_delta_e (&piece, target) <= radius)
        extend (&hull, &piece);
    }
  return hull;
}

/**
 * ts_lab_box_narrow:
 * @self: (inout): a box in CIELAB
 * @target: a colour
 * @radius: CIEDE2000
 *
 * Leaves a box that still holds every colour of the old one within @radius of @target; where there
 * is none, its low ends lie above its high ones.
 */
void
ts_lab_box_narrow (TsLabBox *self, TsLab target, double radius)
{
  guint cuts = FEW_CUTS;

  for (guint turn = 0; turn < MOST_TURNS; turn++)
    {
      double before = volume (self);

      *self = narrow_once (self, target, radius, cuts);
      if (volume (self) < WORTH * before)
        continue;
      if (cuts == MANY_CUTS || volume (self) < LOOSE * radius * radius * radius)
        break;
      cuts *= 2;
    }
}
