/* look-words.c: every place of the window in the language of the environment: is a text cut off?
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * look-words PLAN [--size WxH]... [--rtl] [--text PERCENT] [--shots FOLDER]
 *
 * Opens the plan and lighthouse-finished.jpg beside it, goes through the places, panels and
 * popovers at each size (960x600 and 1280x800 unless told), and says which labels are cut off with
 * no tooltip that has the whole, which have less room than their text or reach out of their window,
 * and whether the window is larger than asked. --shots writes a picture of each. Exit status 1
 * where there was such a thing.
 */
#include <gtk/gtk.h>
#include <libintl.h>
#include <stdio.h>

#include "gui/window/ts-application.h"
#include "gui/window/ts-window.h"

#define LIMIT_US (180 * G_USEC_PER_SEC)

typedef struct
{
  GtkWidget *window;
  TsDocument *document;
  const char *shots; /* folder, or NULL */
  char *finished;    /* owned: the finished figure's photo */
  char *where;       /* owned: scene and size, for messages */
  guint faults;
} Looker;

typedef struct
{
  const char *name, *place;
  const char *type,
    *action; /* a type of widget and an action to be called on the first one, or NULL */
} Scene;

/* Panels stay open: each place comes before its panels. */
static const Scene scenes[] = {
  { "picture", "picture", NULL, NULL },
  { "values", "picture", "TsImageView", "picture.next-look" },
  { "arms-length", "picture", "TsImageView", "picture.next-look" },
  { "both", "picture", "TsImageView", "picture.both" },
  { "both-arms-length", "picture", "TsImageView", "picture.next-beside" },
  { "one", "picture", "TsImageView", "picture.both" },
  { "clipping", "picture", "TsImageView", "picture.clipping" },
  { "mixes", "picture", "TsImageView", "picture.other-mixes" },
  { "correction", "picture", "TsImageView", "picture.correction" },
  { "paints", "paints", NULL, NULL },
  { "paints-add", "paints", "TsPaintList", "paints.add" },
  { "paints-mix", "paints", "TsPaintList", "paints.mix" },
  { "brief", "brief", NULL, NULL },
  { "finish-empty", "finish", NULL, NULL },
  { "finish", "finish", "TsFinishPane", "finish.lay" },
  { "finish-values", "finish", "TsFinishPane", "finish.next-look" },
  { "finish-arms-length", "finish", "TsFinishPane", "finish.next-look" },
  { "card", "card", NULL, NULL },
};

static gboolean
wake (gpointer data)
{
  return G_SOURCE_CONTINUE;
}

static void
on_after_paint (GdkFrameClock *clock, guint *frames)
{
  (*frames)++;
}

/* Until nothing is computed and @n frames more have been painted. */
static void
settle (Looker *self, GtkWidget *widget, guint n)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (widget);
  gint64 end = g_get_monotonic_time () + LIMIT_US;
  guint id = g_timeout_add (20, wake, NULL), frames = 0;
  gulong handler = g_signal_connect (clock, "after-paint", G_CALLBACK (on_after_paint), &frames);

  while ((frames < n || ts_document_get_busy (self->document)) && g_get_monotonic_time () < end)
    {
      gtk_widget_queue_draw (widget);
      g_main_context_iteration (NULL, TRUE);
      if (ts_document_get_busy (self->document))
        frames = 0;
    }
  g_signal_handler_disconnect (clock, handler);
  g_source_remove (id);
}

static void
complain (Looker *self, GtkWidget *widget, const char *what)
{
  const char *text = GTK_IS_LABEL (widget) ? gtk_label_get_text (GTK_LABEL (widget)) : "";
  GtkWidget *parent = gtk_widget_get_parent (widget);

  printf ("%s: %s in %s %s “%s”\n", self->where, G_OBJECT_TYPE_NAME (widget),
          parent != NULL ? G_OBJECT_TYPE_NAME (parent) : "nothing", what, text);
  self->faults++;
}

/* The whole text is told when the pointer rests there, on it or on what holds it. */
static gboolean
has_tooltip (GtkWidget *widget)
{
  for (int i = 0; i < 4 && widget != NULL; i++, widget = gtk_widget_get_parent (widget))
    if (gtk_widget_get_has_tooltip (widget))
      return TRUE;
  return FALSE;
}

static gboolean
is_cut (GtkWidget *widget)
{
  return GTK_IS_LABEL (widget) &&
         pango_layout_is_ellipsized (gtk_label_get_layout (GTK_LABEL (widget))) &&
         !has_tooltip (widget);
}

static gboolean
is_too_small (GtkWidget *widget)
{
  int width, height;

  if (!GTK_IS_LABEL (widget))
    return FALSE;
  pango_layout_get_pixel_size (gtk_label_get_layout (GTK_LABEL (widget)), &width, &height);
  return width > gtk_widget_get_width (widget) + 1 || height > gtk_widget_get_height (widget) + 1;
}

/* What scrolls may be larger than what shows it. */
static gboolean
is_clipped (GtkWidget *widget, GtkWidget *holder)
{
  graphene_rect_t box;
  float width = (float) gtk_widget_get_width (holder),
        height = (float) gtk_widget_get_height (holder);

  return gtk_widget_compute_bounds (widget, holder, &box) &&
         (box.origin.x < -1 || box.origin.y < -1 || box.origin.x + box.size.width > width + 1 ||
          box.origin.y + box.size.height > height + 1);
}

static void
look_at (Looker *self, GtkWidget *widget, GtkWidget *holder)
{
  if (!gtk_widget_get_child_visible (widget) || !gtk_widget_get_mapped (widget))
    return;
  if (is_cut (widget))
    complain (self, widget, "is cut off, with no tooltip:");
  if (is_too_small (widget))
    complain (self, widget, "has less room than it needs:");
  if (holder != NULL && GTK_IS_LABEL (widget) && is_clipped (widget, holder))
    complain (self, widget, "reaches out of its window:");
  if (GTK_IS_SCROLLED_WINDOW (widget) || GTK_IS_VIEWPORT (widget) || GTK_IS_SCROLLABLE (widget))
    holder = NULL;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (!GTK_IS_NATIVE (child))
      look_at (self, child, holder);
}

static void
shoot (Looker *self, GtkWidget *widget, const char *name)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (widget);
  g_autoptr (GtkSnapshot) snapshot = gtk_snapshot_new ();
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  float scale = (float) gtk_widget_get_scale_factor (widget);
  g_autoptr (GskRenderNode) node = NULL;
  g_autoptr (GdkTexture) texture = NULL;
  g_autofree char *path = g_strdup_printf ("%s/%s-%s.png", self->shots, self->where, name);

  gtk_snapshot_scale (snapshot, scale, scale);
  gdk_paintable_snapshot (paintable, snapshot, width, height);
  node = gtk_snapshot_to_node (snapshot);
  if (node == NULL)
    return;
  texture = gsk_renderer_render_texture (
    gtk_native_get_renderer (gtk_widget_get_native (widget)), node,
    &GRAPHENE_RECT_INIT (0, 0, scale * (float) width, scale * (float) height));
  gdk_texture_save_to_png (texture, path);
}

static void
look (Looker *self, GtkWidget *native, const char *name)
{
  look_at (self, native, native);
  if (self->shots != NULL)
    shoot (self, native, name);
}

static GtkWidget *
find (GtkWidget *widget, const char *type)
{
  GtkWidget *found = NULL;

  if (g_strcmp0 (G_OBJECT_TYPE_NAME (widget), type) == 0 && gtk_widget_get_mapped (widget))
    return widget;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL && found == NULL;
       child = gtk_widget_get_next_sibling (child))
    found = find (child, type);
  return found;
}

/* Each menu and panel that a button of the place opens, one after the other. */
static void
look_at_popovers (Looker *self, GtkWidget *widget, guint *n)
{
  if (!gtk_widget_get_mapped (widget))
    return;
  if (GTK_IS_MENU_BUTTON (widget) && gtk_widget_is_sensitive (widget))
    {
      GtkPopover *popover;

      gtk_menu_button_popup (GTK_MENU_BUTTON (widget));
      settle (self, self->window, 2);
      popover = gtk_menu_button_get_popover (GTK_MENU_BUTTON (widget));
      if (popover != NULL && gtk_widget_get_mapped (GTK_WIDGET (popover)))
        {
          g_autofree char *name = g_strdup_printf ("popover%u", ++*n);

          settle (self, GTK_WIDGET (popover), 2);
          look (self, GTK_WIDGET (popover), name);
        }
      gtk_menu_button_popdown (GTK_MENU_BUTTON (widget));
      settle (self, self->window, 2);
      return;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (!GTK_IS_NATIVE (child))
      look_at_popovers (self, child, n);
}

/* The widest child of the widest child and so on, with what each needs at least. */
static void
tell_widest (GtkWidget *widget)
{
  while (widget != NULL)
    {
      GtkWidget *widest = NULL;
      int most = 0;

      for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL;
           child = gtk_widget_get_next_sibling (child))
        {
          int least;

          if (GTK_IS_NATIVE (child) || !gtk_widget_get_mapped (child))
            continue;
          gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
          if (least > most)
            {
              most = least;
              widest = child;
            }
        }
      if (widest != NULL)
        printf ("  %s %d", G_OBJECT_TYPE_NAME (widest), most);
      widget = widest;
    }
  printf ("\n");
}

static void
look_at_window (Looker *self, int width, int height)
{
  guint n = 0;

  if (gtk_widget_get_width (self->window) > width || gtk_widget_get_height (self->window) > height)
    {
      printf ("%s: the window is %d x %d\n", self->where, gtk_widget_get_width (self->window),
              gtk_widget_get_height (self->window));
      tell_widest (self->window);
      self->faults++;
    }
  look (self, self->window, "window");
  look_at_popovers (self, self->window, &n);
}

/* A window manager without shadows leaves the window its border, which is no room. */
static void
resize (Looker *self, int width, int height)
{
  gint64 end = g_get_monotonic_time () + G_USEC_PER_SEC;
  int whole, high, border;

  gtk_window_get_default_size (GTK_WINDOW (self->window), &whole, &high);
  border = MAX (0, whole - gtk_widget_get_width (self->window));
  gtk_window_set_default_size (GTK_WINDOW (self->window), width + border, height + border);
  do
    settle (self, self->window, 3);
  while ((gtk_widget_get_width (self->window) != width ||
          gtk_widget_get_height (self->window) != height) &&
         g_get_monotonic_time () < end);
}

static void
on_opened (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (GError) error = NULL;

  if (!ts_document_open_finish (TS_DOCUMENT (source), result, &error))
    g_error ("%s", error->message);
}

static void
go_to (Looker *self, const Scene *scene)
{
  GtkWidget *widget;

  g_action_group_activate_action (G_ACTION_GROUP (self->window), "place",
                                  g_variant_new_string (scene->place));
  settle (self, self->window, 2);
  if (scene->type == NULL)
    return;
  widget = find (self->window, scene->type);
  if (g_str_equal (scene->name, "finish"))
    {
      ts_document_open_finished (self->document, self->finished, on_opened, NULL);
      settle (self, self->window, 10);
    }
  if (widget != NULL && gtk_widget_activate_action (widget, scene->action, NULL))
    return;
  printf ("%s: there is no %s with %s\n", scene->name, scene->type, scene->action);
  self->faults++;
}

static void
look_at_scene (Looker *self, const Scene *scene, char **sizes)
{
  go_to (self, scene);
  for (; *sizes != NULL; sizes++)
    {
      int width = 0, height = 0;

      if (sscanf (*sizes, "%dx%d", &width, &height) != 2)
        g_error ("%s is no size such as 960x600", *sizes);
      resize (self, width, height);
      g_free (self->where);
      self->where = g_strdup_printf ("%s-%s", scene->name, *sizes);
      look_at_window (self, width, height);
    }
}

/* Preferences, shortcuts and the like: windows of their own. */
static void
look_at_dialog (Looker *self, const char *name)
{
  GListModel *windows = gtk_window_get_toplevels ();

  settle (self, self->window, 2);
  g_free (self->where);
  self->where = g_strdup (name);
  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) dialog = g_list_model_get_item (windows, i);

      if (dialog == self->window || !gtk_widget_get_mapped (dialog))
        continue;
      settle (self, dialog, 3);
      look (self, dialog, "window");
      gtk_widget_set_visible (dialog, FALSE);
      return;
    }
  printf ("%s: it did not open\n", name);
  self->faults++;
}

static void
look_at_all (Looker *self, GtkApplication *application, const char *plan, char **sizes)
{
  const Scene empty = { "empty", "picture", NULL, NULL };

  look_at_scene (self, &empty, sizes);
  ts_window_open (TS_WINDOW (self->window), plan);
  settle (self, self->window, 10);
  ts_document_select_step (self->document, 3);
  for (gsize i = 0; i < G_N_ELEMENTS (scenes); i++)
    look_at_scene (self, &scenes[i], sizes);
  g_action_group_activate_action (G_ACTION_GROUP (application), "preferences", NULL);
  look_at_dialog (self, "preferences");
  g_action_group_activate_action (G_ACTION_GROUP (self->window), "show-help-overlay", NULL);
  look_at_dialog (self, "shortcuts");
  g_action_group_activate_action (G_ACTION_GROUP (application), "help", NULL);
  look_at_dialog (self, "manual");
  g_action_group_activate_action (G_ACTION_GROUP (application), "about", NULL);
  look_at_dialog (self, "about");
}

/* What GTK complains of is a fault like the others. */
static GLogWriterOutput
on_log (GLogLevelFlags level, const GLogField *fields, gsize n_fields, gpointer user_data)
{
  if (level & (G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING))
    ((Looker *) user_data)->faults++;
  return g_log_writer_default (level, fields, n_fields, user_data);
}

int
main (int argc, char **argv)
{
  g_auto (GStrv) sizes = NULL;
  gboolean rtl = FALSE;
  int text = 100;
  g_autofree char *shots = NULL, *folder = NULL;
  const GOptionEntry entries[] = {
    { "size", 0, 0, G_OPTION_ARG_STRING_ARRAY, &sizes, "Of the window", "WxH" },
    { "rtl", 0, 0, G_OPTION_ARG_NONE, &rtl, "From right to left", NULL },
    { "text", 0, 0, G_OPTION_ARG_INT, &text, "Size of text", "PERCENT" },
    { "shots", 0, 0, G_OPTION_ARG_FILENAME, &shots, "Where pictures go", "FOLDER" },
    { NULL },
  };
  const char *usual[] = { "960x600", "1280x800", NULL };
  g_autoptr (GOptionContext) context = g_option_context_new ("PLAN");
  g_autoptr (GError) error = NULL;
  g_autoptr (TsApplication) application = NULL;
  Looker looker = { 0 };
  guint faults;

  g_log_set_always_fatal (G_LOG_LEVEL_CRITICAL | G_LOG_FATAL_MASK);
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || argc != 2)
    g_error ("%s", error != NULL ? error->message : "look-words PLAN");
  g_log_set_writer_func (on_log, &looker, NULL);
  bindtextdomain (GETTEXT_PACKAGE, g_getenv ("TONESTAIR_LOCALE"));
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  gtk_init ();
  if (rtl)
    gtk_widget_set_default_direction (GTK_TEXT_DIR_RTL);
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", 96 * 1024 * text / 100, NULL);
  application = ts_application_new ();
  if (!g_application_register (G_APPLICATION (application), NULL, &error))
    g_error ("%s", error->message);
  g_application_activate (G_APPLICATION (application));
  looker.window = GTK_WIDGET (gtk_application_get_active_window (GTK_APPLICATION (application)));
  looker.document = ts_window_get_document (TS_WINDOW (looker.window));
  looker.shots = shots;
  folder = g_path_get_dirname (argv[1]);
  looker.finished = g_build_filename (folder, "lighthouse-finished.jpg", NULL);
  while (gtk_widget_get_width (looker.window) == 0)
    g_main_context_iteration (NULL, TRUE);
  look_at_all (&looker, GTK_APPLICATION (application), argv[1],
               sizes != NULL ? sizes : (char **) usual);
  faults = looker.faults;
  gtk_window_destroy (GTK_WINDOW (looker.window));
  g_free (looker.where);
  g_free (looker.finished);
  printf ("%u faults\n", faults);
  return faults > 0 ? 1 : 0;
}
