/* ts-correction-overlay.c: the chart and the cards on the picture, while it is being corrected
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/correction/ts-correction-overlay-private.h"

#include <glib/gi18n.h>

#include "gui/correction/ts-correction-handle.h"
#include "gui/widgets/ts-view.h"

#define LAID_SHARE 0.5 /* of what is to be seen, for a chart that nobody has laid yet */

G_DEFINE_FINAL_TYPE (TsCorrectionOverlay, ts_correction_overlay, GTK_TYPE_WIDGET)

static int
get_shown (TsCorrectionOverlay *self)
{
  TsDocument *document = ts_view_get_document (TS_VIEW (self->image_view));

  return (int) ts_document_get_shown_picture (document);
}

gboolean
ts_correction_overlay_shows_chart (TsCorrectionOverlay *self)
{
  return self->draft != NULL && ts_correction_draft_get_choice (self->draft) == TS_DRAFT_CHART &&
         ts_correction_draft_get_corners (self->draft) != NULL &&
         get_shown (self) == (int) ts_correction_draft_get_picture (self->draft);
}

gboolean
ts_correction_overlay_shows_disc (TsCorrectionOverlay *self, TsDraftDisc disc)
{
  TsDraftChoice choice;
  int of;

  if (self->draft == NULL || !(ts_correction_draft_get_disc (self->draft, disc)->radius > 0.0))
    return FALSE;
  choice = ts_correction_draft_get_choice (self->draft);
  of = disc == TS_DISC_THERE ? ts_correction_draft_get_source (self->draft)
                             : (int) ts_correction_draft_get_picture (self->draft);
  return get_shown (self) == of &&
         choice == (disc <= TS_DISC_BLACK ? TS_DRAFT_CARD : TS_DRAFT_OTHER);
}

double
ts_correction_overlay_get_radius (TsCorrectionOverlay *self, TsDraftDisc disc)
{
  return MAX (TS_LEAST_RING, ts_correction_draft_get_disc (self->draft, disc)->radius *
                               ts_image_view_get_zoom (self->image_view));
}

/* A ring about a place, wherever that lies now. */
static void
allocate (TsCorrectionOverlay *self, GtkWidget *handle, TsPoint place, double radius)
{
  TsPoint at = ts_image_view_to_widget (self->image_view, place);
  GtkAllocation where;
  int size;

  ts_correction_handle_set_radius (TS_CORRECTION_HANDLE (handle), radius);
  gtk_widget_measure (handle, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &size, NULL, NULL);
  where =
    (GtkAllocation){ (int) (at.x - size / 2.0 + 0.5), (int) (at.y - size / 2.0 + 0.5), size, size };
  gtk_widget_size_allocate (handle, &where, -1);
}

static void
ts_correction_overlay_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TsCorrectionOverlay *self = TS_CORRECTION_OVERLAY (widget);
  const TsPoint *corners = self->draft ? ts_correction_draft_get_corners (self->draft) : NULL;

  for (guint i = 0; i < 4; i++)
    if (gtk_widget_should_layout (self->corner[i]) && corners != NULL)
      allocate (self, self->corner[i], corners[i], TS_CORNER_RADIUS);
  for (guint i = 0; i < TS_N_DISCS; i++)
    if (gtk_widget_should_layout (self->disc[i]) && self->draft != NULL)
      {
        const TsCardPlace *disc = ts_correction_draft_get_disc (self->draft, (TsDraftDisc) i);

        allocate (self, self->disc[i], (TsPoint){ disc->x, disc->y },
                  ts_correction_overlay_get_radius (self, (TsDraftDisc) i));
      }
}

/* In turn round the chart, wherever its corners lie, then disc by disc; past the last, on to what
 * comes after the picture. */
static gboolean
ts_correction_overlay_focus (GtkWidget *widget, GtkDirectionType direction)
{
  gboolean back =
    direction == GTK_DIR_TAB_BACKWARD || direction == GTK_DIR_LEFT || direction == GTK_DIR_UP;
  GtkWidget *at = gtk_widget_get_focus_child (widget), *next;

  if (at != NULL)
    next = back ? gtk_widget_get_prev_sibling (at) : gtk_widget_get_next_sibling (at);
  else
    next = back ? gtk_widget_get_last_child (widget) : gtk_widget_get_first_child (widget);
  /* GTK 4.8 gives the focus also to what is hidden. */
  while (next != NULL && (!gtk_widget_get_mapped (next) || !gtk_widget_grab_focus (next)))
    next = back ? gtk_widget_get_prev_sibling (next) : gtk_widget_get_next_sibling (next);
  return next != NULL;
}

static void
ts_correction_overlay_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TsCorrectionOverlay *self = TS_CORRECTION_OVERLAY (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr;

  if (self->draft == NULL)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  ts_correction_overlay_draw (self, cr);
  cairo_destroy (cr);
  GTK_WIDGET_CLASS (ts_correction_overlay_parent_class)->snapshot (widget, snapshot);
}

static char *
dup_words (TsCorrectionOverlay *self)
{
  const TsChartReading *reading = ts_correction_draft_get_reading (self->draft);
  const char *fault = ts_correction_draft_get_fault (self->draft);

  if (fault != NULL)
    return g_strdup (fault);
  if (reading == NULL)
    return g_strdup ("");
  return g_strdup_printf (_ ("%u of 24 patches used, dE %.1f on patches left out of the fit"),
                          reading->n_used, reading->leave_one_out);
}

static void
describe (TsCorrectionOverlay *self)
{
  g_autofree char *words = dup_words (self);
  const char *name = ts_correction_overlay_shows_chart (self) ? _ ("24-patch chart") : _ ("Cards");

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
}

static void
update (TsCorrectionOverlay *self)
{
  gboolean chart = ts_correction_overlay_shows_chart (self);

  for (guint i = 0; i < 4; i++)
    gtk_widget_set_visible (self->corner[i], chart);
  for (guint i = 0; i < TS_N_DISCS; i++)
    gtk_widget_set_visible (self->disc[i],
                            ts_correction_overlay_shows_disc (self, (TsDraftDisc) i));
  if (self->draft != NULL)
    describe (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* A chart that nobody has laid yet starts in the middle of what is to be seen. */
static void
lay_chart (TsCorrectionOverlay *self)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self->image_view));
  int height = gtk_widget_get_height (GTK_WIDGET (self->image_view));
  double w = MIN (width * LAID_SHARE, height * LAID_SHARE * 5.0 / 3.0), h = w * 3.0 / 5.0;
  TsPoint corners[4];

  if (width <= 0 || height <= 0)
    return;
  for (guint i = 0; i < 4; i++)
    corners[i] =
      ts_image_view_to_picture (self->image_view, width / 2.0 + (i == 1 || i == 2 ? w : -w) / 2.0,
                                height / 2.0 + (i >= 2 ? h : -h) / 2.0);
  ts_correction_draft_set_corners (self->draft, corners);
}

static void
on_changed (TsCorrectionOverlay *self)
{
  if (ts_correction_draft_get_choice (self->draft) == TS_DRAFT_CHART &&
      ts_correction_draft_get_corners (self->draft) == NULL)
    lay_chart (self);
  update (self);
}

static void
ts_correction_overlay_dispose (GObject *object)
{
  TsCorrectionOverlay *self = TS_CORRECTION_OVERLAY (object);
  GtkWidget *child;

  ts_correction_overlay_set_draft (self, NULL);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self))) != NULL)
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (ts_correction_overlay_parent_class)->dispose (object);
}

static void
ts_correction_overlay_class_init (TsCorrectionOverlayClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_correction_overlay_dispose;
  widget_class->focus = ts_correction_overlay_focus;
  widget_class->size_allocate = ts_correction_overlay_size_allocate;
  widget_class->snapshot = ts_correction_overlay_snapshot;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "correction");
}

static void
ts_correction_overlay_init (TsCorrectionOverlay *self)
{
  for (guint i = 0; i < 4; i++)
    {
      self->corner[i] = ts_correction_handle_new_corner (i);
      gtk_widget_set_parent (self->corner[i], GTK_WIDGET (self));
    }
  for (guint i = 0; i < TS_N_DISCS; i++)
    {
      self->disc[i] = ts_correction_handle_new_disc ((TsDraftDisc) i);
      gtk_widget_set_parent (self->disc[i], GTK_WIDGET (self));
    }
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  ts_correction_overlay_add_pointer (self);
  update (self);
}

/**
 * ts_correction_overlay_new:
 * @image_view: the view of the picture that it is to stand over
 *
 * Returns: (transfer floating): an overlay without a draft
 */
GtkWidget *
ts_correction_overlay_new (TsImageView *image_view)
{
  TsCorrectionOverlay *self = g_object_new (TS_TYPE_CORRECTION_OVERLAY, NULL);

  self->image_view = image_view;
  g_signal_connect_object (image_view, "view-changed", G_CALLBACK (update), self,
                           G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

/**
 * ts_correction_overlay_set_draft:
 * @self: the overlay
 * @draft: (nullable): what is being worked on
 *
 * Shows it, and lets hand and keyboard lay its corners and discs.
 */
void
ts_correction_overlay_set_draft (TsCorrectionOverlay *self, TsCorrectionDraft *draft)
{
  g_return_if_fail (TS_IS_CORRECTION_OVERLAY (self));

  if (self->draft != NULL)
    g_signal_handlers_disconnect_by_data (self->draft, self);
  g_set_object (&self->draft, draft);
  for (guint i = 0; i < 4; i++)
    ts_correction_handle_set_draft (TS_CORRECTION_HANDLE (self->corner[i]), draft);
  for (guint i = 0; i < TS_N_DISCS; i++)
    ts_correction_handle_set_draft (TS_CORRECTION_HANDLE (self->disc[i]), draft);
  if (draft != NULL)
    {
      g_signal_connect_swapped (draft, "changed", G_CALLBACK (on_changed), self);
      on_changed (self);
    }
  else
    update (self);
}
