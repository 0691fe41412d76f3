/* demo-figure.c: the parts of the figure put together
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "demo-figure.h"

const Vec demo_figure_place = { -0.75f, 1.75f, 0.0f };
const Vec demo_figure_low = { -3.6f, -3.95f, -1.7f };
const Vec demo_figure_high = { 3.2f, 3.45f, 1.85f };

DemoSurface
demo_figure_at (Vec p)
{
  const Vec q = vec_sub (p, demo_figure_place);
  DemoSurface best = { 1e3f, DEMO_WALL };

  demo_lantern_add (&best, q);
  demo_clothes_add (&best, q);
  demo_head_add (&best, q);
  return best;
}

Vec
demo_figure_normal (Vec p, float step)
{
  static const Vec corners[] = { { 1, -1, -1 }, { -1, -1, 1 }, { -1, 1, -1 }, { 1, 1, 1 } };
  Vec sum = vec (0.0f, 0.0f, 0.0f);

  for (int i = 0; i < 4; i++)
    sum = vec_along (sum, corners[i], demo_figure_at (vec_along (p, corners[i], step)).distance);
  return vec_unit (sum);
}
