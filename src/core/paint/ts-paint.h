/* ts-paint.h: one paint: what it is called, and how it absorbs and scatters light
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include "colour/ts-spectrum.h"

G_BEGIN_DECLS

typedef enum
{
  TS_PAINT_PAINT,
  TS_PAINT_INK,
  TS_PAINT_WASH,
  TS_PAINT_METALLIC,
  TS_PAINT_MEDIUM,
  TS_PAINT_PRIMER,
  TS_PAINT_VARNISH
} TsPaintKind;

typedef enum
{
  TS_OPACITY_UNKNOWN,
  TS_OPACITY_OPAQUE,
  TS_OPACITY_SEMI_OPAQUE,
  TS_OPACITY_SEMI_TRANSPARENT,
  TS_OPACITY_TRANSPARENT
} TsOpacity;

typedef enum
{
  TS_STOCK_FULL,
  TS_STOCK_LOW,
  TS_STOCK_OUT
} TsStock;

/* What K and S were worked out from, best known last. */
typedef enum
{
  TS_SOURCE_WORD,          /* a masstone CIELAB colour and an opacity word */
  TS_SOURCE_MASSTONE,      /* a masstone spectrum and an opacity word */
  TS_SOURCE_FILMS_LAB,     /* one coat over black and over white, CIELAB */
  TS_SOURCE_FILMS_SPECTRA, /* the same, spectra */
  TS_SOURCE_TINTS,         /* a tint ladder with white */
  TS_SOURCE_DIRECT,        /* K and S as given */
  TS_SOURCE_CALIBRATED     /* refined by the painter's own swatches */
} TsPaintSource;

/* Saunderson's surface: what the boundary between paint and air sends back. */
typedef struct
{
  double k1; /* outside, 0..1 */
  double k2; /* inside, diffuse, 0..1 */
} TsSurfaceReflection;

/* A contrast card of which nothing else is known: inside reflectances (white: the example value of
 * ISO 6504-1). */
#define TS_CARD_BLACK 0.0
#define TS_CARD_WHITE 0.8

/* One paint of a set. It never changes; threads may share it. K and S are per coat, each band >= 0;
 * a coat, brushed as usual, is the unit of film thickness. */
typedef struct _TsPaint TsPaint;

TsPaint          *ts_paint_ref              (TsPaint        *self);
void              ts_paint_unref            (TsPaint        *self);
const char       *ts_paint_get_name         (const TsPaint  *self);
TsPaintKind       ts_paint_get_kind         (const TsPaint  *self);
TsOpacity         ts_paint_get_opacity      (const TsPaint  *self);
TsStock           ts_paint_get_stock        (const TsPaint  *self);
TsPaintSource     ts_paint_get_source       (const TsPaint  *self);
const char       *ts_paint_get_pigments     (const TsPaint  *self);
const char       *ts_paint_get_finish       (const TsPaint  *self);
const char       *ts_paint_get_notes        (const TsPaint  *self);
const TsSpectrum *ts_paint_get_K            (const TsPaint  *self);
const TsSpectrum *ts_paint_get_S            (const TsPaint  *self);
/* Colour of a layer that hides all, D50. */
TsLab             ts_paint_get_masstone     (const TsPaint  *self);
/* 95 % radius, CIEDE2000, of a mix with this paint in it, from how the paint was measured. */
double            ts_paint_get_error        (const TsPaint  *self);
/* The caution that its pigment index names call for, or %NULL. Untranslated. */
const char       *ts_paint_get_caution      (const TsPaint  *self);

/* In stock, and no primer, varnish or medium. */
gboolean          ts_paint_is_for_mixing    (const TsPaint  *self);

/* The words of a set's file, and back; the plain words of the trade. */
const char *ts_paint_kind_to_word      (TsPaintKind     kind);
const char *ts_opacity_to_word         (TsOpacity       opacity);
const char *ts_stock_to_word           (TsStock         stock);
gboolean    ts_paint_kind_from_word    (const char     *word,
                                        TsPaintKind    *kind);
gboolean    ts_opacity_from_word       (const char     *word,
                                        TsOpacity      *opacity);
gboolean    ts_stock_from_word         (const char     *word,
                                        TsStock        *stock);
/* "measured from a masstone colour and an opacity word", ... Untranslated. */
const char *ts_paint_source_to_words   (TsPaintSource   source);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TsPaint, ts_paint_unref)

G_END_DECLS
