/* ts-profile-screen.c: from a picture's pixels to those of a screen
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "colour/ts-profile-screen.h"

#include <glib/gi18n.h>

#include "base/ts-error.h"
#include "colour/ts-profile-private.h"

#include <lcms2.h>

/* White less black of a screen, over the three channels of 255. */
#define LEAST_RANGE 380

struct _TsProfileScreen
{
  /* Owned; NULL where the screen is taken for sRGB, or the picture's profile is assumed. */
  TsProfile *from;
  cmsContext context;
  cmsHTRANSFORM direct;  /* from the picture to the monitor, colours outside sRGB with it */
  cmsHTRANSFORM adapted; /* from sRGB words to the monitor's */
};

static void
screen_clear (gpointer data)
{
  TsProfileScreen *self = data;

  g_clear_pointer (&self->direct, cmsDeleteTransform);
  g_clear_pointer (&self->adapted, cmsDeleteTransform);
  g_clear_pointer (&self->context, cmsDeleteContext);
  ts_profile_unref (self->from);
}

static const char *
find_fault (cmsHPROFILE monitor)
{
  if (monitor == NULL)
    return _ ("it is damaged");
  if (cmsGetColorSpace (monitor) != cmsSigRgbData ||
      cmsGetDeviceClass (monitor) == cmsSigLinkClass ||
      cmsGetDeviceClass (monitor) == cmsSigAbstractClass)
    return _ ("it is not the profile of a screen");
  if (!cmsIsMatrixShaper (monitor) &&
      !cmsIsIntentSupported (monitor, INTENT_RELATIVE_COLORIMETRIC, LCMS_USED_AS_OUTPUT))
    return _ ("it says nothing about how to show a colour");
  return NULL;
}

static gboolean
make_transforms (TsProfileScreen *self, cmsHPROFILE monitor)
{
  cmsHPROFILE source = ts_profile_get_source (self->from);
  cmsHPROFILE srgb = cmsCreate_sRGBProfileTHR (self->context);
  cmsUInt32Number word = ts_profile_get_word ();

  if (srgb != NULL)
    self->adapted = cmsCreateTransformTHR (self->context, srgb, word, monitor, word,
                                           INTENT_RELATIVE_COLORIMETRIC, 0);
  g_clear_pointer (&srgb, cmsCloseProfile);
  if (source == NULL || self->adapted == NULL)
    return self->adapted != NULL;
  self->direct = cmsCreateTransformTHR (self->context, source,
                                        ts_profile_get_samples (ts_profile_get_format (self->from)),
                                        monitor, word, INTENT_RELATIVE_COLORIMETRIC, 0);
  return self->direct != NULL;
}

static int
sum_channels (guint32 word)
{
  return (int) ((word >> 16 & 0xff) + (word >> 8 & 0xff) + (word & 0xff));
}

/* Whether white is light and black is dark. */
static gboolean
makes_sense (const TsProfileScreen *self)
{
  guint32 ends[2] = { 0x000000, 0xffffff };

  ts_profile_screen_adapt (self, ends, 2);
  return sum_channels (ends[1]) - sum_channels (ends[0]) > LEAST_RANGE;
}

static const char *
bind_monitor (TsProfileScreen *self, GBytes *monitor)
{
  gsize size = 0;
  const void *data = g_bytes_get_data (monitor, &size);
  cmsHPROFILE profile = NULL;
  const char *fault;

  if (size > 0 && size <= TS_PROFILE_MAX_ICC_BYTES)
    profile = cmsOpenProfileFromMemTHR (self->context, data, (cmsUInt32Number) size);
  fault = find_fault (profile);
  if (fault == NULL && !make_transforms (self, profile))
    fault = _ ("it is damaged");
  if (fault == NULL && !makes_sense (self))
    fault = _ ("its colours make no sense");
  g_clear_pointer (&profile, cmsCloseProfile);
  return fault;
}

/**
 * ts_profile_screen_new:
 * @from: what the picture's pixels mean
 * @monitor: (nullable): an ICC profile of an RGB screen, by matrix or tables, 32 MB at most; %NULL
 *   takes the screen for sRGB
 * @error: return location for an error, or %NULL
 *
 * Joins two profiles, relative colorimetric; that takes some milliseconds.
 *
 * Returns: (transfer full) (nullable): the way, or %NULL with %TS_ERROR_FORMAT set where the
 * monitor's profile cannot be used
 */
TsProfileScreen *
ts_profile_screen_new (TsProfile *from, GBytes *monitor, GError **error)
{
  g_autoptr (GString) log = g_string_new (NULL);
  TsProfileScreen *self;
  const char *fault;

  g_return_val_if_fail (from != NULL, NULL);
  g_return_val_if_fail (error == NULL || *error == NULL, NULL);

  self = g_atomic_rc_box_new0 (TsProfileScreen);
  self->from = ts_profile_ref (from);
  if (monitor == NULL)
    return self;
  self->context = ts_profile_new_context (log);
  fault = bind_monitor (self, monitor);
  cmsSetLogErrorHandlerTHR (self->context, NULL); /* the log ends with this call */
  if (fault == NULL)
    return self;
  g_set_error (error, TS_ERROR, TS_ERROR_FORMAT,
               _ ("The monitor's colour profile cannot be used: %s; choose another, or measure the "
                  "screen again"),
               fault);
  ts_profile_screen_unref (self);
  return NULL;
}

/**
 * ts_profile_screen_ref:
 * @self: a way to a screen
 *
 * Returns: (transfer full): @self
 */
TsProfileScreen *
ts_profile_screen_ref (TsProfileScreen *self)
{
  return g_atomic_rc_box_acquire (self);
}

/**
 * ts_profile_screen_unref:
 * @self: (transfer full): a way to a screen
 */
void
ts_profile_screen_unref (TsProfileScreen *self)
{
  g_atomic_rc_box_release_full (self, screen_clear);
}

/**
 * ts_profile_screen_convert:
 * @self: a way to a screen
 * @pixels: the first pixel of a block, packed
 * @pixel_stride: bytes from one row to the next
 * @width: pixels across
 * @height: pixels down
 * @words: (out caller-allocates): words whose lower 24 bits are RRGGBB; the others may be anything
 * @word_stride: words from one row to the next
 *
 * As exact as ts_profile_to_screen(). A picture with a profile goes straight to the monitor's
 * colours; one without goes by sRGB, which is what it is taken for.
 */
void
ts_profile_screen_convert (const TsProfileScreen *self, const void *pixels, gsize pixel_stride,
                           guint width, guint height, guint32 *words, gsize word_stride)
{
  cmsHTRANSFORM transform = self->direct;

  if (transform == NULL)
    transform = ts_profile_get_to_screen (self->from);
  if (transform != NULL)
    cmsDoTransformLineStride (transform, pixels, words, width, height,
                              (cmsUInt32Number) pixel_stride,
                              (cmsUInt32Number) (word_stride * sizeof *words), 0, 0);
  else
    for (guint y = 0; y < height; y++)
      ts_profile_to_screen (self->from, (const guint8 *) pixels + y * pixel_stride, width,
                            words + y * word_stride);
  if (self->direct == NULL && self->adapted != NULL)
    for (guint y = 0; y < height; y++)
      ts_profile_screen_adapt (self, words + y * word_stride, width);
}

/**
 * ts_profile_screen_adapt:
 * @self: a way to a screen
 * @words: (array length=n) (inout): words whose lower 24 bits are RRGGBB
 * @n: how many
 *
 * Shows sRGB on the monitor; without a monitor's profile the words stay.
 */
void
ts_profile_screen_adapt (const TsProfileScreen *self, guint32 *words, gsize n)
{
  if (self->adapted != NULL)
    cmsDoTransform (self->adapted, words, words, (cmsUInt32Number) n);
}
