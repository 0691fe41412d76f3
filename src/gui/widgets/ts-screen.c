/* ts-screen.c: what the colours of a display mean: sRGB, or its monitor's profile
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-screen.h"

#include "base/ts-file.h"

#define MAX_BYTES (32 * 1024 * 1024)

struct _TsScreen
{
  GObject parent_instance;

  /* Owned; NULL for sRGB */
  GBytes *profile;
  TsProfileScreen *from_srgb;
};

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsScreen, ts_screen, G_TYPE_OBJECT)

static void
forget (TsScreen *self)
{
  g_clear_pointer (&self->profile, g_bytes_unref);
  g_clear_pointer (&self->from_srgb, ts_profile_screen_unref);
}

static void
ts_screen_finalize (GObject *object)
{
  forget (TS_SCREEN (object));
  G_OBJECT_CLASS (ts_screen_parent_class)->finalize (object);
}

static void
ts_screen_class_init (TsScreenClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ts_screen_finalize;
  signals[CHANGED] = g_signal_new ("changed", TS_TYPE_SCREEN, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 0);
}

static void
ts_screen_init (TsScreen *self)
{
}

/**
 * ts_screen_get:
 * @display: a display
 *
 * Returns: (transfer none): what its colours mean
 */
TsScreen *
ts_screen_get (GdkDisplay *display)
{
  TsScreen *self;

  g_return_val_if_fail (GDK_IS_DISPLAY (display), NULL);

  self = g_object_get_data (G_OBJECT (display), "ts-screen");
  if (self == NULL)
    {
      self = g_object_new (TS_TYPE_SCREEN, NULL);
      g_object_set_data_full (G_OBJECT (display), "ts-screen", self, g_object_unref);
    }
  return self;
}

static gboolean
read_profile (TsScreen *self, const char *path, GError **error)
{
  g_autoptr (TsProfile) srgb = ts_profile_new_assumed (TS_PIXEL_RGB8);
  g_autoptr (GBytes) bytes = ts_file_read (path, MAX_BYTES, error);

  if (bytes == NULL)
    return FALSE;
  self->from_srgb = ts_profile_screen_new (srgb, bytes, error);
  if (self->from_srgb == NULL)
    return FALSE;
  self->profile = g_steal_pointer (&bytes);
  return TRUE;
}

/**
 * ts_screen_set_profile:
 * @self: a display's colours
 * @path: (nullable): an ICC profile of the monitor; %NULL or empty takes it for sRGB
 * @error: return location for an error, or %NULL
 *
 * Colours that are drawn from now on are the monitor's.
 *
 * Returns: %FALSE with an error of %TS_ERROR where the profile cannot be used; then it is sRGB
 */
gboolean
ts_screen_set_profile (TsScreen *self, const char *path, GError **error)
{
  gboolean done;

  g_return_val_if_fail (TS_IS_SCREEN (self), FALSE);

  forget (self);
  done = path == NULL || *path == '\0' || read_profile (self, path, error);
  g_signal_emit (self, signals[CHANGED], 0);
  return done;
}

/**
 * ts_screen_get_profile:
 * @self: a display's colours
 *
 * Returns: (transfer none) (nullable): the monitor's ICC profile, or %NULL for sRGB
 */
GBytes *
ts_screen_get_profile (TsScreen *self)
{
  g_return_val_if_fail (TS_IS_SCREEN (self), NULL);

  return self->profile;
}

/**
 * ts_screen_adapt:
 * @self: a display's colours
 * @word: 0x00RRGGBB in sRGB
 *
 * Returns: the word that shows that colour on the display
 */
guint32
ts_screen_adapt (TsScreen *self, guint32 word)
{
  g_return_val_if_fail (TS_IS_SCREEN (self), word);

  if (self->from_srgb != NULL)
    ts_profile_screen_adapt (self->from_srgb, &word, 1);
  return word & 0xffffff;
}
