/* ts-hover.c: what is under the pointer, so that picture, curve and stair mark the same thing
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/picture/ts-hover.h"

struct _TsHover
{
  GObject parent_instance;

  int step, spot;
};

enum
{
  CHANGED,
  N_SIGNALS
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (TsHover, ts_hover, G_TYPE_OBJECT)

static void
ts_hover_class_init (TsHoverClass *class)
{
  signals[CHANGED] =
    g_signal_new ("changed", TS_TYPE_HOVER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
ts_hover_init (TsHover *self)
{
  self->step = self->spot = -1;
}

/**
 * ts_hover_new:
 *
 * Returns: (transfer full): nothing under the pointer
 */
TsHover *
ts_hover_new (void)
{
  return g_object_new (TS_TYPE_HOVER, NULL);
}

/**
 * ts_hover_get_step:
 * @self: the hover
 *
 * Returns: the step under the pointer, or -1
 */
int
ts_hover_get_step (TsHover *self)
{
  g_return_val_if_fail (TS_IS_HOVER (self), -1);

  return self->step;
}

/**
 * ts_hover_get_spot:
 * @self: the hover
 *
 * Returns: the spot under the pointer, or -1
 */
int
ts_hover_get_spot (TsHover *self)
{
  g_return_val_if_fail (TS_IS_HOVER (self), -1);

  return self->spot;
}

/**
 * ts_hover_set:
 * @self: the hover
 * @step: the step under the pointer, or -1
 * @spot: the spot under the pointer, or -1
 *
 * Tells all who show it.
 */
void
ts_hover_set (TsHover *self, int step, int spot)
{
  g_return_if_fail (TS_IS_HOVER (self));

  if (self->step == step && self->spot == spot)
    return;
  self->step = step;
  self->spot = spot;
  g_signal_emit (self, signals[CHANGED], 0);
}
