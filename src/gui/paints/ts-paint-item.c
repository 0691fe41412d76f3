/* ts-paint-item.c: one paint of a set, as lists and charts hold it
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/paints/ts-paint-item.h"

#include <math.h>
#include <string.h>

#include "gui/paints/ts-paint-words.h"

#define GREY_CHROMA 8.0 /* below it a hue says nothing, and the paint stands with the greys */

struct _TsPaintItem
{
  GObject parent_instance;

  TsPaintSet *set; /* owned */
  TsPaint *paint;  /* borrowed from @set */
  guint index;
  TsPaintSamples samples;
  char *key;    /* owned: for the order by name */
  char *search; /* owned: all that can be found by, casefolded */
};

G_DEFINE_FINAL_TYPE (TsPaintItem, ts_paint_item, G_TYPE_OBJECT)

static void
ts_paint_item_finalize (GObject *object)
{
  TsPaintItem *self = TS_PAINT_ITEM (object);

  g_clear_pointer (&self->set, ts_paint_set_unref);
  g_free (self->key);
  g_free (self->search);
  G_OBJECT_CLASS (ts_paint_item_parent_class)->finalize (object);
}

static void
ts_paint_item_class_init (TsPaintItemClass *class)
{
  G_OBJECT_CLASS (class)->finalize = ts_paint_item_finalize;
}

static void
ts_paint_item_init (TsPaintItem *self)
{
}

/**
 * ts_paint_item_new:
 * @set: a set
 * @index: which of its paints
 * @white: index of the white that tints are made with, or -1
 *
 * Returns: (transfer full): that paint for a list
 */
TsPaintItem *
ts_paint_item_new (TsPaintSet *set, guint index, int white)
{
  TsPaintItem *self = g_object_new (TS_TYPE_PAINT_ITEM, NULL);
  g_autofree char *all = NULL, *folded = NULL;

  self->set = ts_paint_set_ref (set);
  self->paint = ts_paint_set_get_paint (set, index);
  self->index = index;
  ts_paint_set_get_samples (set, index, white, &self->samples);
  folded = g_utf8_casefold (ts_paint_get_name (self->paint), -1);
  self->key = g_utf8_collate_key (folded, -1);
  all = g_strjoin ("\n", ts_paint_get_name (self->paint),
                   ts_paint_words_kind (ts_paint_get_kind (self->paint)),
                   ts_paint_words_opacity (ts_paint_get_opacity (self->paint)),
                   ts_paint_words_stock (ts_paint_get_stock (self->paint)),
                   ts_paint_get_pigments (self->paint), ts_paint_get_notes (self->paint), NULL);
  self->search = g_utf8_casefold (all, -1);
  return self;
}

/**
 * ts_paint_item_get_index:
 * @self: an item
 *
 * Returns: index of its paint in the set
 */
guint
ts_paint_item_get_index (TsPaintItem *self)
{
  return self->index;
}

/**
 * ts_paint_item_get_set:
 * @self: an item
 *
 * Returns: (transfer none): the set that its paint is of
 */
TsPaintSet *
ts_paint_item_get_set (TsPaintItem *self)
{
  return self->set;
}

/**
 * ts_paint_item_get_paint:
 * @self: an item
 *
 * Returns: (transfer none): its paint
 */
TsPaint *
ts_paint_item_get_paint (TsPaintItem *self)
{
  return self->paint;
}

/**
 * ts_paint_item_get_samples:
 * @self: an item
 *
 * Returns: (transfer none): its colours
 */
const TsPaintSamples *
ts_paint_item_get_samples (TsPaintItem *self)
{
  return &self->samples;
}

/**
 * ts_paint_item_matches:
 * @self: an item
 * @words: (array zero-terminated=1): casefolded words
 *
 * Returns: whether all of them are found in what is known of the paint
 */
gboolean
ts_paint_item_matches (TsPaintItem *self, char *const *words)
{
  for (; *words != NULL; words++)
    if (strstr (self->search, *words) == NULL)
      return FALSE;
  return TRUE;
}

static int
compare_numbers (double one, double other)
{
  return (one > other) - (one < other);
}

/* Greys first, then round from red. */
static double
hue_of (TsPaintItem *self)
{
  TsLab lab = self->samples.masstone;
  double hue = atan2 (lab.b, lab.a);

  if (hypot (lab.a, lab.b) < GREY_CHROMA)
    return -1.0;
  return hue < 0.0 ? hue + 2.0 * G_PI : hue;
}

/**
 * ts_paint_item_compare:
 * @one: an item
 * @other: another of the same set
 * @order: what goes first
 *
 * Returns: below 0 where @one stands before @other, above 0 where after
 */
int
ts_paint_item_compare (TsPaintItem *one, TsPaintItem *other, TsPaintOrder order)
{
  int way = 0;

  switch (order)
    {
    case TS_PAINT_ORDER_LIGHTNESS:
      way = compare_numbers (other->samples.masstone.L, one->samples.masstone.L);
      break;
    case TS_PAINT_ORDER_HUE:
      way = compare_numbers (hue_of (one), hue_of (other));
      break;
    case TS_PAINT_ORDER_HIDING:
      way = compare_numbers (other->samples.contrast, one->samples.contrast);
      break;
    case TS_PAINT_ORDER_STOCK:
      way = (int) ts_paint_get_stock (other->paint) - (int) ts_paint_get_stock (one->paint);
      break;
    case TS_PAINT_ORDER_FILE:
      way = (int) one->index - (int) other->index;
      break;
    case TS_PAINT_ORDER_NAME:
    default:
      break;
    }
  return way != 0 ? way : strcmp (one->key, other->key);
}
