/* demo-field.h: the figure's distances on a lattice, so that a ray passes quickly
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#pragma once

#include <glib.h>

#include "demo-figure.h"

typedef struct _DemoField DemoField;

DemoField *demo_field_new     (float             spacing);
void       demo_field_free    (DemoField        *self);
/* With @exact the sculpted surface itself is met, else the lattice's. */
gboolean   demo_field_meet    (const DemoField  *self,
                               Vec               from,
                               Vec               direction,
                               float             limit,
                               gboolean          exact,
                               float            *distance);
Vec        demo_field_normal  (const DemoField  *self,
                               Vec               p);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (DemoField, demo_field_free)
