/* ts-cicp.c: profiles for the numbers that name a way of coding colours
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The code points of ITU-T H.273 are written out as a small ICC profile (ICC.1:2010): a matrix and
 * one parametric curve, or the curve alone for grey.
 */
#include "image/ts-cicp-private.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/ts-error.h"
#include "base/ts-linalg.h"

typedef struct
{
  guint8 code;
  const char *name;
  double xy[4][2]; /* red, green, blue, white */
} Primaries;

typedef struct
{
  guint8 code;
  const char *name;
  double g, a, b, c, d; /* Y = (a X + b)^g from X = d on, c X below */
} Transfer;

#define D65                                                                                        \
  {                                                                                                \
    0.3127, 0.3290                                                                                 \
  }

/* clang-format off */
/* ITU-T H.273, table 2 */
static const Primaries all_primaries[] = {
  {  1, "BT.709",     { { 0.640, 0.330 }, { 0.300, 0.600 }, { 0.150, 0.060 }, D65 } },
  {  4, "BT.470 M",   { { 0.67,  0.33  }, { 0.21,  0.71  }, { 0.14,  0.08  }, { 0.310, 0.316 } } },
  {  5, "BT.470 BG",  { { 0.64,  0.33  }, { 0.29,  0.60  }, { 0.15,  0.06  }, D65 } },
  {  6, "BT.601",     { { 0.630, 0.340 }, { 0.310, 0.595 }, { 0.155, 0.070 }, D65 } },
  {  7, "ST 240",     { { 0.630, 0.340 }, { 0.310, 0.595 }, { 0.155, 0.070 }, D65 } },
  {  9, "BT.2020",    { { 0.708, 0.292 }, { 0.170, 0.797 }, { 0.131, 0.046 }, D65 } },
  { 11, "DCI-P3",     { { 0.680, 0.320 }, { 0.265, 0.690 }, { 0.150, 0.060 }, { 0.314, 0.351 } } },
  { 12, "Display P3", { { 0.680, 0.320 }, { 0.265, 0.690 }, { 0.150, 0.060 }, D65 } },
};

/* ITU-T H.273, table 3, turned round: from the sample to light. 13 is IEC 61966-2-1. */
static const Transfer all_transfers[] = {
  {  4, "gamma 2.2",    2.2, 1.0, 0.0, 0.0, 0.0 },
  {  5, "gamma 2.8",    2.8, 1.0, 0.0, 0.0, 0.0 },
  {  8, "linear",       1.0, 1.0, 0.0, 0.0, 0.0 },
  { 13, "sRGB's curve", 2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045 },
};
/* clang-format on */

#define SRGB_PRIMARIES 1
#define SRGB_TRANSFER 13
#define TRANSFER_PQ 16
#define TRANSFER_HLG 18

static void
append_u16 (GByteArray *out, guint16 value)
{
  guint16 big = GUINT16_TO_BE (value);

  g_byte_array_append (out, (const guint8 *) &big, sizeof big);
}

static void
append_u32 (GByteArray *out, guint32 value)
{
  guint32 big = GUINT32_TO_BE (value);

  g_byte_array_append (out, (const guint8 *) &big, sizeof big);
}

static void
append_text (GByteArray *out, const char *text)
{
  g_byte_array_append (out, (const guint8 *) text, (guint) strlen (text));
}

static void
append_zeros (GByteArray *out, guint n)
{
  for (guint i = 0; i < n; i++)
    g_byte_array_append (out, (const guint8 *) "", 1);
}

/* s15Fixed16Number */
static void
append_fixed (GByteArray *out, double value)
{
  append_u32 (out, (guint32) (gint32) (value * 65536.0 + (value < 0.0 ? -0.5 : 0.5)));
}

static void
append_vector (GByteArray *out, TsVec3 v)
{
  for (int i = 0; i < 3; i++)
    append_fixed (out, v.v[i]);
}

/* XYZ of chromaticity x, y at Y = 1 */
static TsVec3
vector_from_xy (const double xy[2])
{
  TsVec3 v = { { xy[0] / xy[1], 1.0, (1.0 - xy[0] - xy[1]) / xy[1] } };

  return v;
}

/* Linear Bradford adaptation of @white to D50 (ICC.1:2010, annex E). */
static TsMat3
adapt_to_d50 (TsVec3 white)
{
  static const TsMat3 bradford = {
    { { 0.8951, 0.2664, -0.1614 }, { -0.7502, 1.7135, 0.0367 }, { 0.0389, -0.0685, 1.0296 } }
  };
  static const TsVec3 d50 = { { TS_D50_X, 1.0, TS_D50_Z } };
  TsVec3 from = ts_mat3_apply (&bradford, white);
  TsVec3 to = ts_mat3_apply (&bradford, d50);
  TsMat3 scaled = bradford, back, result;

  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      scaled.m[i][j] *= to.v[i] / from.v[i];
  ts_mat3_invert (&bradford, &back);
  result = ts_mat3_multiply (&back, &scaled);
  return result;
}

/* Columns: XYZ under D50 of full red, green and blue. */
static TsMat3
rgb_to_xyz (const Primaries *primaries)
{
  TsVec3 white = vector_from_xy (primaries->xy[3]);
  TsMat3 columns, inverse, adapt = adapt_to_d50 (white);
  TsVec3 scale;

  for (int c = 0; c < 3; c++)
    {
      TsVec3 v = vector_from_xy (primaries->xy[c]);

      for (int i = 0; i < 3; i++)
        columns.m[i][c] = v.v[i];
    }
  ts_mat3_invert (&columns, &inverse);
  scale = ts_mat3_apply (&inverse, white);
  for (int c = 0; c < 3; c++)
    for (int i = 0; i < 3; i++)
      columns.m[i][c] *= scale.v[c];
  return ts_mat3_multiply (&adapt, &columns);
}

static void
append_header (GByteArray *out, gboolean grey)
{
  append_u32 (out, 0); /* the size: patched at the end */
  append_u32 (out, 0);
  append_u32 (out, 0x04200000);
  append_text (out, "mntr");
  append_text (out, grey ? "GRAY" : "RGB ");
  append_text (out, "XYZ ");
  append_zeros (out, 12);
  append_text (out, "acsp");
  append_zeros (out, 28);
  append_fixed (out, TS_D50_X);
  append_fixed (out, 1.0);
  append_fixed (out, TS_D50_Z);
  append_zeros (out, 48);
}

/* multiLocalizedUnicodeType with one record; @name is ASCII */
static void
append_name (GByteArray *out, const char *name)
{
  guint n = (guint) strlen (name);

  append_text (out, "mluc");
  append_u32 (out, 0);
  append_u32 (out, 1);
  append_u32 (out, 12);
  append_text (out, "enUS");
  append_u32 (out, 2 * n);
  append_u32 (out, 28);
  for (guint i = 0; i < n; i++)
    append_u16 (out, (guint8) name[i]);
  append_zeros (out, (4 - 2 * n % 4) % 4);
}

static void
append_curve (GByteArray *out, const Transfer *transfer)
{
  append_text (out, "para");
  append_u32 (out, 0);
  append_u16 (out, 3);
  append_u16 (out, 0);
  append_fixed (out, transfer->g);
  append_fixed (out, transfer->a);
  append_fixed (out, transfer->b);
  append_fixed (out, transfer->c);
  append_fixed (out, transfer->d);
}

static void
append_xyz (GByteArray *out, TsVec3 v)
{
  append_text (out, "XYZ ");
  append_u32 (out, 0);
  append_vector (out, v);
}

static void
append_tag (GByteArray *tags, const char *name, guint32 start, guint32 end)
{
  append_text (tags, name);
  append_u32 (tags, start);
  append_u32 (tags, end - start);
}

static void
append_colorants (GByteArray *tags, GByteArray *data, guint32 base, const Primaries *primaries)
{
  static const char *const names[] = { "rXYZ", "gXYZ", "bXYZ" };
  TsMat3 matrix = rgb_to_xyz (primaries);

  for (int c = 0; c < 3; c++)
    {
      TsVec3 column = { { matrix.m[0][c], matrix.m[1][c], matrix.m[2][c] } };
      guint32 start = base + data->len;

      append_xyz (data, column);
      append_tag (tags, names[c], start, base + data->len);
    }
}

static char *
dup_name (const Primaries *primaries, const Transfer *transfer, gboolean grey)
{
  if (primaries->code == SRGB_PRIMARIES && transfer->code == SRGB_TRANSFER)
    return g_strdup (grey ? "sRGB's grey" : "sRGB");
  return grey ? g_strdup (transfer->name)
              : g_strdup_printf ("%s, %s", primaries->name, transfer->name);
}

static GBytes *
write_profile (const Primaries *primaries, const Transfer *transfer, gboolean grey)
{
  static const char *const curves[] = { "rTRC", "gTRC", "bTRC" };
  static const TsVec3 white = { { TS_D50_X, 1.0, TS_D50_Z } };
  g_autofree char *name = dup_name (primaries, transfer, grey);
  g_autoptr (GByteArray) data = g_byte_array_new ();
  g_autoptr (GByteArray) tags = g_byte_array_new ();
  GByteArray *out = g_byte_array_new ();
  guint32 n_tags = grey ? 3 : 8;
  guint32 base = 128 + 4 + 12 * n_tags, start = base, size;

  append_name (data, name);
  append_tag (tags, "desc", start, base + data->len);
  start = base + data->len;
  append_xyz (data, white);
  append_tag (tags, "wtpt", start, base + data->len);
  if (!grey)
    append_colorants (tags, data, base, primaries);
  start = base + data->len;
  append_curve (data, transfer);
  if (grey)
    append_tag (tags, "kTRC", start, base + data->len);
  for (int c = 0; c < 3 && !grey; c++)
    append_tag (tags, curves[c], start, base + data->len);

  append_header (out, grey);
  append_u32 (out, n_tags);
  g_byte_array_append (out, tags->data, tags->len);
  g_byte_array_append (out, data->data, data->len);
  size = GUINT32_TO_BE (out->len);
  memcpy (out->data, &size, sizeof size);
  return g_byte_array_free_to_bytes (out);
}

static const Primaries *
find_primaries (guint8 code)
{
  for (gsize i = 0; i < G_N_ELEMENTS (all_primaries); i++)
    if (all_primaries[i].code == code)
      return &all_primaries[i];
  return NULL;
}

static const Transfer *
find_transfer (guint8 code)
{
  for (gsize i = 0; i < G_N_ELEMENTS (all_transfers); i++)
    if (all_transfers[i].code == code)
      return &all_transfers[i];
  return NULL;
}

static void
set_unread (const guint8 *code, GError **error)
{
  if (code[1] == TRANSFER_PQ || code[1] == TRANSFER_HLG)
    g_set_error (
      error, TS_ERROR, TS_ERROR_UNSUPPORTED,
      _ ("The picture is made for an HDR screen; export it in sRGB, since its colours are far "
         "off without that"));
  else
    g_set_error (
      error, TS_ERROR, TS_ERROR_UNSUPPORTED,
      _ ("The picture's colour coding %u/%u/%u/%u (ITU-T H.273) is not read; export it in sRGB"),
      code[0], code[1], code[2], code[3]);
}

/**
 * ts_cicp_get_profile:
 * @code: (array length=n): colour primaries, transfer characteristics, matrix coefficients and
 *   full-range flag (ITU-T H.273)
 * @n: how many bytes there are, 4 in a sound file
 * @format: the pixels it is for, grey or RGB; for grey only the transfer counts
 * @error: return location for an error, or %NULL
 *
 * Returns: (transfer full) (nullable): the profile, or %NULL with %TS_ERROR_FORMAT or
 *   %TS_ERROR_UNSUPPORTED set
 */
TsProfile *
ts_cicp_get_profile (const guint8 *code, gsize n, TsPixelFormat format, GError **error)
{
  gboolean grey = ts_pixel_format_get_channels (format) == 1;
  const Primaries *primaries;
  const Transfer *transfer;
  g_autoptr (GBytes) icc = NULL;

  if (n != TS_CICP_SIZE)
    {
      g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
                   _ ("The picture's chunk cICP has %u bytes, not %d; export it in sRGB"),
                   (guint) n, TS_CICP_SIZE);
      return NULL;
    }
  primaries = find_primaries (code[0]);
  transfer = find_transfer (code[1]);
  if (primaries == NULL || transfer == NULL || code[2] != 0 || code[3] != 1)
    {
      set_unread (code, error);
      return NULL;
    }
  icc = write_profile (primaries, transfer, grey);
  return ts_profile_new_from_icc (icc, format, error);
}

/**
 * ts_cicp_get_srgb:
 * @format: the pixels it is for, grey or RGB
 * @error: see ts_cicp_get_profile()
 *
 * Returns: (transfer full) (nullable): sRGB (IEC 61966-2-1), or %NULL with an error set
 */
TsProfile *
ts_cicp_get_srgb (TsPixelFormat format, GError **error)
{
  static const guint8 srgb[TS_CICP_SIZE] = { SRGB_PRIMARIES, SRGB_TRANSFER, 0, 1 };

  return ts_cicp_get_profile (srgb, sizeof srgb, format, error);
}
