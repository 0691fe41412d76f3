/* ts-help-window.c: the window in which the manual is read
 *
 * README.md of the manual's folder lists the chapters; data/help/LANGUAGE is read where there is
 * one, else data/help/en.
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/help/ts-help-window.h"

#include <string.h>

#include "gui/widgets/ts-accessible.h"
#include "gui/widgets/ts-data.h"
#include "gui/help/ts-help-page.h"
#include "gui/help/ts-help-view.h"

typedef struct
{
  char *file;
  GPtrArray *blocks; /* of TsHelpBlock, not empty; the first is the title */
} Chapter;

struct _TsHelpWindow
{
  GtkWindow parent_instance;

  /* Owned */
  char *folder;
  GPtrArray *chapters; /* of Chapter */
  GArray *past;        /* of guint: chapters that were read before this one */
  char *link;          /* nullable: to be followed */
  guint link_source;

  int current; /* chapter, -1 none */
  gboolean filling;
  GtkWidget *wanted; /* nullable: to scroll to once it has its place */

  /* Template children */
  GtkWidget *search, *list, *scroller, *column, *page;
};

G_DEFINE_FINAL_TYPE (TsHelpWindow, ts_help_window, GTK_TYPE_WINDOW)

static void
chapter_free (gpointer data)
{
  Chapter *chapter = data;

  g_free (chapter->file);
  g_ptr_array_unref (chapter->blocks);
  g_free (chapter);
}

static char *
dup_folder (void)
{
  const char *const *languages = g_get_language_names ();

  for (guint i = 0; languages[i] != NULL; i++)
    {
      g_autofree char *name = g_build_filename ("help", languages[i], NULL);
      char *path = ts_data_dup_path (name);

      if (path != NULL)
        return path;
    }
  return ts_data_dup_path ("help/en");
}

static void
add_chapter (TsHelpWindow *self, const char *file)
{
  g_autofree char *path = g_build_filename (self->folder, file, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) blocks = ts_help_page_load (path, &error);
  Chapter *chapter;

  if (blocks == NULL || blocks->len == 0)
    {
      g_message ("%s: %s", path, error != NULL ? error->message : "is empty");
      return;
    }
  chapter = g_new0 (Chapter, 1);
  chapter->file = g_strdup (file);
  chapter->blocks = g_steal_pointer (&blocks);
  g_ptr_array_add (self->chapters, chapter);
}

static const TsHelpBlock *
get_block (const Chapter *chapter, guint index)
{
  return g_ptr_array_index (chapter->blocks, index);
}

/* One line of the list: a chapter, or a section of one in which something was found. */
static void
add_line (TsHelpWindow *self, guint chapter, guint block)
{
  const Chapter *of = g_ptr_array_index (self->chapters, chapter);
  GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  const char *words[] = { get_block (of, block)->plain,
                          block > 0 ? get_block (of, 0)->plain : NULL };

  for (guint i = 0; i < 2 && words[i] != NULL; i++)
    {
      GtkWidget *label = gtk_label_new (words[i]);

      gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
      gtk_label_set_wrap (GTK_LABEL (label), TRUE);
      gtk_widget_add_css_class (label, i == 0 ? "body" : "small");
      gtk_box_append (GTK_BOX (box), label);
    }
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, words[0],
                                  -1);
  g_object_set_data (G_OBJECT (row), "chapter", GUINT_TO_POINTER (chapter));
  g_object_set_data (G_OBJECT (row), "block", GUINT_TO_POINTER (block));
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

static gboolean
holds (const char *text, const char *folded_phrase)
{
  g_autofree char *folded = g_utf8_casefold (text, -1);

  return strstr (folded, folded_phrase) != NULL;
}

/* Each section once in which the phrase stands. */
static void
add_found (TsHelpWindow *self, guint chapter, const char *folded_phrase)
{
  const Chapter *of = g_ptr_array_index (self->chapters, chapter);
  guint section = 0;
  gboolean told = FALSE;

  for (guint i = 0; i < of->blocks->len; i++)
    {
      const TsHelpBlock *block = get_block (of, i);

      if (block->kind == TS_HELP_HEADING)
        {
          section = i;
          told = FALSE;
        }
      if (told || !holds (block->plain, folded_phrase))
        continue;
      add_line (self, chapter, section);
      told = TRUE;
    }
}

static char *
dup_phrase (TsHelpWindow *self)
{
  return g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->search))));
}

/* In the list of all chapters. */
static void
select_current (TsHelpWindow *self)
{
  GtkListBox *list = GTK_LIST_BOX (self->list);

  self->filling = TRUE;
  gtk_list_box_select_row (list, gtk_list_box_get_row_at_index (list, self->current));
  self->filling = FALSE;
}

/* All chapters, or where the phrase stands. */
static void
fill_list (TsHelpWindow *self)
{
  g_autofree char *phrase = dup_phrase (self);
  g_autofree char *folded = g_utf8_casefold (phrase, -1);
  GtkListBoxRow *row;

  self->filling = TRUE;
  while ((row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0)) != NULL)
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  for (guint i = 0; i < self->chapters->len; i++)
    if (*phrase == '\0')
      add_line (self, i, 0);
    else
      add_found (self, i, folded);
  self->filling = FALSE;
  if (*phrase == '\0')
    select_current (self);
}

/* What is on the screen has its place only after the next frame. */
static gboolean
scroll_to_wanted (GtkWidget *scroller, GdkFrameClock *clock, gpointer user_data)
{
  TsHelpWindow *self = TS_HELP_WINDOW (gtk_widget_get_root (scroller));
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroller));
  graphene_rect_t place;

  if (self->wanted == NULL)
    return G_SOURCE_REMOVE;
  if (gtk_widget_get_height (self->wanted) == 0 ||
      !gtk_widget_compute_bounds (self->wanted, self->page, &place))
    return G_SOURCE_CONTINUE;
  gtk_adjustment_set_value (down, (double) place.origin.y);
  self->wanted = NULL;
  return G_SOURCE_REMOVE;
}

static void on_link (const char *target, gpointer user_data);

static void
show_chapter (TsHelpWindow *self, guint index, guint block)
{
  const Chapter *chapter = g_ptr_array_index (self->chapters, index);
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));
  g_autofree char *phrase = dup_phrase (self);
  GtkWidget *focus = gtk_root_get_focus (GTK_ROOT (self));
  gboolean waiting = self->wanted != NULL;

  /* What has the keyboard must not be taken away with it. */
  if (focus != NULL && gtk_widget_is_ancestor (focus, self->page))
    gtk_widget_grab_focus (self->page);
  self->current = (int) index;
  self->wanted =
    ts_help_view_fill (GTK_BOX (self->page), chapter->blocks, block, self->folder, on_link, self);
  if (*phrase != '\0')
    ts_help_view_mark (self->page, phrase);
  gtk_adjustment_set_value (down, 0.0);
  if (!waiting)
    gtk_widget_add_tick_callback (self->scroller, scroll_to_wanted, NULL, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->page), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  get_block (chapter, 0)->plain, -1);
  if (*phrase == '\0')
    select_current (self);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "help.back", self->past->len > 0);
}

/* As show_chapter(), with a way back. */
static void
go_to (TsHelpWindow *self, guint index, guint block)
{
  if (self->current >= 0 && self->current != (int) index)
    {
      guint current = (guint) self->current;

      g_array_append_val (self->past, current);
    }
  show_chapter (self, index, block);
}

static void
go_back (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TsHelpWindow *self = TS_HELP_WINDOW (widget);
  guint index = g_array_index (self->past, guint, self->past->len - 1);

  g_array_set_size (self->past, self->past->len - 1);
  show_chapter (self, index, 0);
}

/* The block of that name in links, or the first. */
static guint
find_heading (const Chapter *chapter, const char *name)
{
  for (guint i = 0; i < chapter->blocks->len && name != NULL; i++)
    if (get_block (chapter, i)->kind == TS_HELP_HEADING &&
        g_str_equal (get_block (chapter, i)->target, name))
      return i;
  return 0;
}

/**
 * ts_help_window_show:
 * @self: the window
 * @target: a chapter's file, with or without "#" and a heading's name
 *
 * Shows that chapter; nothing else happens where there is none.
 */
void
ts_help_window_show (TsHelpWindow *self, const char *target)
{
  g_auto (GStrv) parts = g_strsplit (target, "#", 2);

  g_return_if_fail (TS_IS_HELP_WINDOW (self));

  for (guint i = 0; i < self->chapters->len && parts[0] != NULL; i++)
    {
      const Chapter *chapter = g_ptr_array_index (self->chapters, i);

      if (g_str_equal (chapter->file, parts[0]))
        {
          go_to (self, i, find_heading (chapter, parts[1]));
          return;
        }
    }
}

static gboolean
follow (gpointer user_data)
{
  TsHelpWindow *self = TS_HELP_WINDOW (user_data);
  g_autofree char *target = g_steal_pointer (&self->link);

  self->link_source = 0;
  ts_help_window_show (self, target);
  return G_SOURCE_REMOVE;
}

/* A little later: the label that was pressed goes with its page. */
static void
on_link (const char *target, gpointer user_data)
{
  TsHelpWindow *self = TS_HELP_WINDOW (user_data);

  g_free (self->link);
  self->link = g_strdup (target);
  if (self->link_source == 0)
    self->link_source = g_idle_add (follow, self);
}

static void
on_row_selected (GtkListBox *list, GtkListBoxRow *row, TsHelpWindow *self)
{
  if (row != NULL && !self->filling)
    go_to (self, GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "chapter")),
           GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (row), "block")));
}

static void
on_search_changed (TsHelpWindow *self)
{
  fill_list (self);
}

static void
on_search_activated (TsHelpWindow *self)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);

  if (row != NULL)
    gtk_list_box_select_row (GTK_LIST_BOX (self->list), row);
}

/* Escape takes the phrase away, then the window. */
static void
on_search_stopped (TsHelpWindow *self)
{
  if (*gtk_editable_get_text (GTK_EDITABLE (self->search)) == '\0')
    gtk_window_close (GTK_WINDOW (self));
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
}

static void
find (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_widget_grab_focus (TS_HELP_WINDOW (widget)->search);
}

/* The page, wherever the keyboard is: there is not always something in it that takes the focus. */
static gboolean
on_key (GtkEventControllerKey *keys, guint keyval, guint code, GdkModifierType state,
        TsHelpWindow *self)
{
  GtkScrollType scroll =
    keyval == GDK_KEY_Page_Down || keyval == GDK_KEY_KP_Page_Down ? GTK_SCROLL_PAGE_DOWN
    : keyval == GDK_KEY_Page_Up || keyval == GDK_KEY_KP_Page_Up   ? GTK_SCROLL_PAGE_UP
                                                                  : GTK_SCROLL_NONE;
  gboolean scrolled;

  if (scroll == GTK_SCROLL_NONE)
    return FALSE;
  g_signal_emit_by_name (self->scroller, "scroll-child", scroll, FALSE, &scrolled);
  return TRUE;
}

static void
ts_help_window_dispose (GObject *object)
{
  TsHelpWindow *self = TS_HELP_WINDOW (object);

  self->wanted = NULL;
  g_clear_handle_id (&self->link_source, g_source_remove);
  gtk_widget_dispose_template (GTK_WIDGET (self), TS_TYPE_HELP_WINDOW);
  G_OBJECT_CLASS (ts_help_window_parent_class)->dispose (object);
}

static void
ts_help_window_finalize (GObject *object)
{
  TsHelpWindow *self = TS_HELP_WINDOW (object);

  g_free (self->folder);
  g_free (self->link);
  g_ptr_array_unref (self->chapters);
  g_array_unref (self->past);
  G_OBJECT_CLASS (ts_help_window_parent_class)->finalize (object);
}

static void
ts_help_window_class_init (TsHelpWindowClass *class)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (class);

  G_OBJECT_CLASS (class)->dispose = ts_help_window_dispose;
  G_OBJECT_CLASS (class)->finalize = ts_help_window_finalize;
  gtk_widget_class_install_action (widget_class, "help.back", NULL, go_back);
  gtk_widget_class_install_action (widget_class, "help.find", NULL, find);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Left, GDK_ALT_MASK, "help.back", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_f, GDK_CONTROL_MASK, "help.find",
                                       NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_w, GDK_CONTROL_MASK, "window.close",
                                       NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_set_template_from_resource (widget_class,
                                               "/io/github/tonestair/Tonestair/ts-help-window.ui");
  gtk_widget_class_bind_template_child (widget_class, TsHelpWindow, search);
  gtk_widget_class_bind_template_child (widget_class, TsHelpWindow, list);
  gtk_widget_class_bind_template_child (widget_class, TsHelpWindow, scroller);
  gtk_widget_class_bind_template_child (widget_class, TsHelpWindow, column);
  gtk_widget_class_bind_template_child (widget_class, TsHelpWindow, page);
  gtk_widget_class_bind_template_callback (widget_class, on_row_selected);
  gtk_widget_class_bind_template_callback (widget_class, on_search_changed);
  gtk_widget_class_bind_template_callback (widget_class, on_search_activated);
  gtk_widget_class_bind_template_callback (widget_class, on_search_stopped);
}

static void
ts_help_window_init (TsHelpWindow *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_autoptr (GPtrArray) files = NULL;

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (on_key), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  self->current = -1;
  self->folder = dup_folder ();
  self->chapters = g_ptr_array_new_with_free_func (chapter_free);
  self->past = g_array_new (FALSE, FALSE, sizeof (guint));
  gtk_widget_init_template (GTK_WIDGET (self));
  ts_help_view_centre (self->column);
  ts_accessible_tab_leaves (GTK_LIST_BOX (self->list));
  if (self->folder == NULL)
    return;
  add_chapter (self, "README.md");
  files = self->chapters->len > 0
            ? ts_help_page_links (((Chapter *) g_ptr_array_index (self->chapters, 0))->blocks)
            : NULL;
  for (guint i = 0; files != NULL && i < files->len; i++)
    add_chapter (self, g_ptr_array_index (files, i));
  if (self->chapters->len == 0)
    return;
  fill_list (self);
  show_chapter (self, 0, 0);
}

/**
 * ts_help_window_new:
 *
 * Returns: (transfer none): the manual, open at its contents
 */
GtkWidget *
ts_help_window_new (void)
{
  return g_object_new (TS_TYPE_HELP_WINDOW, NULL);
}
