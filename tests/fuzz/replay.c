/* replay.c: runs a harness over stored inputs, as they are and a little damaged
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 *
 * usage: fuzz-X [-rounds=N] FOLDER-OR-FILE...
 */
#include "fuzz.h"

#include <gio/gio.h>
#include <stdlib.h>
#include <string.h>

#define SEED 20240229

static void
damage (guint8 *data, gsize n, GRand *rand)
{
  for (gint32 times = g_rand_int_range (rand, 1, 9); times > 0 && n > 0; times--)
    {
      gsize at = (gsize) g_rand_int_range (rand, 0, (gint32) n);

      if (g_rand_boolean (rand))
        data[at] ^= (guint8) (1 << g_rand_int_range (rand, 0, 8));
      else
        data[at] = (guint8) g_rand_int_range (rand, 0, 256);
    }
}

static void
replay_file (const char *path, guint rounds, GRand *rand)
{
  g_autofree char *data = NULL;
  g_autoptr (GError) error = NULL;
  gsize n;

  if (!g_file_get_contents (path, &data, &n, &error))
    g_error ("%s", error->message);
  LLVMFuzzerTestOneInput ((const guint8 *) data, n);
  for (guint i = 0; i < rounds; i++)
    {
      /* Its own allocation, so that reading past the end shows. */
      g_autofree guint8 *copy = g_memdup2 (data, n);

      damage (copy, n, rand);
      LLVMFuzzerTestOneInput (copy, n);
    }
}

static gint
compare_names (gconstpointer one, gconstpointer other)
{
  return strcmp (*(const char *const *) one, *(const char *const *) other);
}

static guint
replay (const char *path, guint rounds, GRand *rand)
{
  g_autoptr (GDir) folder = g_dir_open (path, 0, NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  if (folder == NULL)
    {
      replay_file (path, rounds, rand);
      return 1;
    }
  while ((name = g_dir_read_name (folder)) != NULL)
    g_ptr_array_add (names, g_build_filename (path, name, NULL));
  g_ptr_array_sort (names, compare_names);
  for (guint i = 0; i < names->len; i++)
    if (g_file_test (names->pdata[i], G_FILE_TEST_IS_REGULAR))
      replay_file (names->pdata[i], rounds, rand);
  return names->len;
}

int
main (int argc, char **argv)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (SEED);
  guint rounds = 0, n_files = 0;

  for (int i = 1; i < argc; i++)
    if (g_str_has_prefix (argv[i], "-rounds="))
      rounds = (guint) strtoul (argv[i] + strlen ("-rounds="), NULL, 10);
    else
      n_files += replay (argv[i], rounds, rand);
  g_print ("%u inputs, each as it is and damaged %u times\n", n_files, rounds);
  return n_files > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
