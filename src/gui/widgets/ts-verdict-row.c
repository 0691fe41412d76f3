/* ts-verdict-row.c: two colours, what they are, and a verdict as shape and words
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "gui/widgets/ts-verdict-row.h"

#include <glib/gi18n.h>

#include "gui/widgets/ts-mark-icon.h"
#include "gui/widgets/ts-strip.h"

#define PAIR_WIDTH 52
#define PAIR_HEIGHT 24
#define PAIR_EDGE 3

static GtkWidget *
new_label (const char *text, const char *size)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0.0F);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, size);
  return label;
}

/**
 * ts_verdict_row_new:
 * @colours: (nullable) (array fixed-size=2): two colours side by side, D50
 * @name: what they are
 * @verdict: words
 * @mark: its shape
 * @problem: whether it should be mended: bold and full contrast
 *
 * Returns: (transfer floating): one line that can be read without colour
 */
GtkWidget *
ts_verdict_row_new (const TsLab *colours, const char *name, const char *verdict, TsMark mark,
                    gboolean problem)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *label = new_label (name, "body"), *words = new_label (verdict, "small");
  GtkWidget *icon = ts_mark_icon_new ();

  if (colours != NULL)
    {
      GtkWidget *pair = ts_strip_new (PAIR_WIDTH, PAIR_HEIGHT, PAIR_EDGE);
      g_autofree char *lightness =
        g_strdup_printf (_ ("L* %.0f and %.0f"), colours[0].L, colours[1].L);

      ts_strip_set_colours (TS_STRIP (pair), colours, 2, 1);
      ts_strip_describe (TS_STRIP (pair), name, lightness);
      gtk_widget_set_valign (pair, GTK_ALIGN_CENTER);
      gtk_box_append (GTK_BOX (row), pair);
    }
  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_add_css_class (words, problem ? "problem" : "dim");
  ts_mark_icon_set (TS_MARK_ICON (icon), mark);
  if (!problem)
    gtk_widget_add_css_class (icon, "dim");
  gtk_box_append (GTK_BOX (row), label);
  gtk_box_append (GTK_BOX (row), words);
  gtk_box_append (GTK_BOX (row), icon);
  return row;
}
