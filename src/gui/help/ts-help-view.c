/* ts-help-view.c: the widgets of one chapter of the manual
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/help/ts-help-view.h"

#include "gui/help/ts-help-image.h"
#include "gui/help/ts-help-page.h"

#define LINE 72 /* characters of a line, at most: longer ones are hard to follow */
#define CELL 26 /* of a table's cell, but for the last of its row */

/* What the widgets are made with. */
typedef struct
{
  GtkBox *page;
  const char *folder;
  TsHelpLinkFunc func;
  gpointer user_data;
  GtkWidget *grid; /* nullable: the table under way */
  int row, column;
} Builder;

/* What a link calls. */
typedef struct
{
  TsHelpLinkFunc func;
  gpointer user_data;
} Link;

static gboolean
on_link (GtkLabel *label, const char *target, gpointer data)
{
  const Link *link = data;

  link->func (target, link->user_data);
  return TRUE;
}

static void
link_free (gpointer data, GClosure *closure)
{
  g_free (data);
}

static GtkWidget *
new_label (Builder *b, const TsHelpBlock *block, int chars, const char *style)
{
  GtkAccessibleRole role =
    block->kind == TS_HELP_HEADING ? GTK_ACCESSIBLE_ROLE_HEADING : GTK_ACCESSIBLE_ROLE_LABEL;
  GtkWidget *label =
    g_object_new (GTK_TYPE_LABEL, "accessible-role", role, "label", block->markup, "use-markup",
                  TRUE, "wrap", TRUE, "xalign", 0.0, "yalign", 0.0, "max-width-chars", chars, NULL);
  Link *link = g_new0 (Link, 1);

  *link = (Link){ b->func, b->user_data };
  g_signal_connect_data (label, "activate-link", G_CALLBACK (on_link), link, link_free, 0);
  gtk_widget_add_css_class (label, style);
  return label;
}

static GtkWidget *
new_heading (Builder *b, const TsHelpBlock *block)
{
  GtkWidget *label = new_label (b, block, LINE, block->level == 1 ? "empty-title" : "title");

  gtk_accessible_update_property (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_PROPERTY_LEVEL,
                                  (int) block->level, GTK_ACCESSIBLE_PROPERTY_LABEL, block->plain,
                                  -1);
  gtk_widget_set_margin_top (label, block->level == 1 ? 0 : 14);
  return label;
}

static GtkWidget *
new_item (Builder *b, const TsHelpBlock *block)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *mark = gtk_label_new (block->mark), *label = new_label (b, block, LINE, "body");

  gtk_label_set_width_chars (GTK_LABEL (mark), 3);
  gtk_label_set_xalign (GTK_LABEL (mark), 1.0F);
  gtk_widget_set_valign (mark, GTK_ALIGN_START);
  gtk_widget_add_css_class (mark, "body");
  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (box), mark);
  gtk_box_append (GTK_BOX (box), label);
  return box;
}

static GtkWidget *
new_picture (Builder *b, const TsHelpBlock *block)
{
  g_autofree char *path = g_build_filename (b->folder, block->target, NULL);
  GtkWidget *picture = ts_help_image_new (path, block->plain);

  gtk_widget_set_margin_top (picture, 4);
  gtk_widget_set_margin_bottom (picture, 8);
  return picture;
}

/* The first row of a table is its head. */
static GtkWidget *
add_cell (Builder *b, const TsHelpBlock *block, gboolean last)
{
  GtkWidget *label;

  if (b->grid == NULL)
    {
      b->grid = gtk_grid_new ();
      b->row = -1;
      gtk_grid_set_column_spacing (GTK_GRID (b->grid), 16);
      gtk_grid_set_row_spacing (GTK_GRID (b->grid), 4);
      gtk_box_append (b->page, b->grid);
    }
  b->row += block->level == 1 ? 1 : 0;
  b->column = block->level == 1 ? 0 : b->column + 1;
  label = new_label (b, block, last ? LINE - CELL : CELL, b->row == 0 ? "heading" : "body");
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_grid_attach (GTK_GRID (b->grid), label, b->column, b->row, 1, 1);
  return label;
}

static GtkWidget *
add_block (Builder *b, const TsHelpBlock *block, const TsHelpBlock *next)
{
  GtkWidget *widget;

  if (block->kind == TS_HELP_ROW)
    return add_cell (b, block, next == NULL || next->kind != TS_HELP_ROW || next->level == 1);
  b->grid = NULL;
  if (block->kind == TS_HELP_HEADING)
    widget = new_heading (b, block);
  else if (block->kind == TS_HELP_ITEM)
    widget = new_item (b, block);
  else if (block->kind == TS_HELP_PICTURE)
    widget = new_picture (b, block);
  else
    widget = new_label (b, block, LINE, "body");
  gtk_box_append (b->page, widget);
  return widget;
}

/**
 * ts_help_view_fill:
 * @page: where to
 * @blocks: (element-type TsHelpBlock): a chapter
 * @wanted: the index of a block
 * @folder: where the chapter's pictures are looked for
 * @func: called with a link's target
 * @user_data: for @func
 *
 * Shows the chapter in place of what is there.
 *
 * Returns: (transfer none) (nullable): the wanted block's widget
 */
GtkWidget *
ts_help_view_fill (GtkBox *page, const GPtrArray *blocks, guint wanted, const char *folder,
                   TsHelpLinkFunc func, gpointer user_data)
{
  Builder b = { .page = page, .folder = folder, .func = func, .user_data = user_data };
  GtkWidget *child, *found = NULL;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (page))) != NULL)
    gtk_box_remove (page, child);
  for (guint i = 0; i < blocks->len; i++)
    {
      GtkWidget *widget =
        add_block (&b, g_ptr_array_index (blocks, i),
                   i + 1 < blocks->len ? g_ptr_array_index (blocks, i + 1) : NULL);

      found = i == wanted ? widget : found;
    }
  return found;
}

static void
mark_label (GtkLabel *label, GRegex *phrase)
{
  g_autoptr (PangoAttrList) marks = pango_attr_list_new ();
  g_autoptr (GMatchInfo) match = NULL;

  for (g_regex_match (phrase, gtk_label_get_text (label), 0, &match); g_match_info_matches (match);
       g_match_info_next (match, NULL))
    {
      PangoAttribute *mark[] = { pango_attr_background_new (0x8080, 0x8080, 0x8080),
                                 pango_attr_background_alpha_new (0x7000) };
      int start, end;

      g_match_info_fetch_pos (match, 0, &start, &end);
      for (guint i = 0; i < G_N_ELEMENTS (mark); i++)
        {
          mark[i]->start_index = (guint) start;
          mark[i]->end_index = (guint) end;
          pango_attr_list_insert (marks, mark[i]);
        }
    }
  gtk_label_set_attributes (label, marks);
}

static void
mark_below (GtkWidget *widget, GRegex *phrase)
{
  if (GTK_IS_LABEL (widget))
    mark_label (GTK_LABEL (widget), phrase);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    mark_below (child, phrase);
}

/**
 * ts_help_view_mark:
 * @page: a page that is filled
 * @phrase: what was looked for, not empty
 *
 * Marks it wherever it stands.
 */
void
ts_help_view_mark (GtkWidget *page, const char *phrase)
{
  g_autofree char *escaped = g_regex_escape_string (phrase, -1);
  g_autoptr (GRegex) regex = g_regex_new (escaped, G_REGEX_CASELESS, 0, NULL);

  if (regex != NULL)
    mark_below (page, regex);
}

/* One child, in the middle and no wider than it asks to be. GTK_ALIGN_CENTER would not do: it asks
 * how wide the child must be at least for the height it is given. */
static int
get_natural_width (GtkWidget *child)
{
  int natural;

  gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &natural, NULL, NULL);
  return natural;
}

static GtkSizeRequestMode
get_mode (GtkWidget *column)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
measure (GtkWidget *column, GtkOrientation orientation, int for_size, int *minimum, int *natural,
         int *minimum_baseline, int *natural_baseline)
{
  GtkWidget *child = gtk_widget_get_first_child (column);
  int size = for_size;

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    size = -1;
  else if (size >= 0)
    size = MIN (size, get_natural_width (child));
  gtk_widget_measure (child, orientation, size, minimum, natural, NULL, NULL);
}

static void
allocate (GtkWidget *column, int width, int height, int baseline)
{
  GtkWidget *child = gtk_widget_get_first_child (column);
  int taken = MIN (width, get_natural_width (child));

  gtk_widget_size_allocate (child, &(GtkAllocation){ (width - taken) / 2, 0, taken, height }, -1);
}

/**
 * ts_help_view_centre:
 * @column: a box with one child, a page
 *
 * Keeps the page in the middle of it, at a width that is good to read.
 */
void
ts_help_view_centre (GtkWidget *column)
{
  gtk_widget_set_layout_manager (column, gtk_custom_layout_new (get_mode, measure, allocate));
}
