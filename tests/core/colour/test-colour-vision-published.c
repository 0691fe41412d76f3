/* test-colour-vision-published.c: other eyes, against the published matrices
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "colour/ts-colour-convert.h"
#include "colour/ts-colour-vision.h"
#include "colour/ts-difference.h"

/* Printed with six digits. */
#define MACHADO 5e-7
/* Printed with five. */
#define VIENOT 5e-6

static TsVision
vision_of (const char *kind)
{
  return g_str_has_prefix (kind, "protan")   ? TS_VISION_PROTAN
         : g_str_has_prefix (kind, "deuter") ? TS_VISION_DEUTAN
                                             : TS_VISION_TRITAN;
}

static const char *
kind_of (const TsCsv *table, guint row)
{
  return ts_csv_get_cell (table, row, ts_csv_find_column (table, "kind"));
}

static void
check_row (const TsCsv *table, guint row, TsMat3 matrix, double tolerance)
{
  guint of = (guint) ts_test_cell (table, row, "row") - 1;

  assert_in_range (of, 0, 2);
  assert_near (matrix.m[of][0], ts_test_cell (table, row, "c1"), tolerance);
  assert_near (matrix.m[of][1], ts_test_cell (table, row, "c2"), tolerance);
  assert_near (matrix.m[of][2], ts_test_cell (table, row, "c3"), tolerance);
}

/* Machado, Oliveira and Fernandes (2009), all 33 matrices. */
static void
test_machado (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/cvd_machado2009.csv");
  guint rows = ts_csv_get_n_rows (table);

  assert_int_equal (rows, 99);
  for (guint row = 0; row < rows; row++)
    check_row (table, row,
               ts_vision_get_machado (vision_of (kind_of (table, row)),
                                      ts_test_cell (table, row, "severity")),
               MACHADO);
}

/* Vienot, Brettel and Mollon (1999). */
static void
test_vienot (void **state)
{
  g_autoptr (TsCsv) table = ts_test_table ("published/cvd_vienot1999.csv");
  guint rows = ts_csv_get_n_rows (table);

  assert_int_equal (rows, 6);
  for (guint row = 0; row < rows; row++)
    {
      TsMat3 matrix;

      assert_true (ts_vision_get_vienot (vision_of (kind_of (table, row)), &matrix));
      check_row (table, row, matrix, VIENOT);
    }
  assert_false (ts_vision_get_vienot (TS_VISION_TRITAN, &(TsMat3){ 0 }));
}

/* Both sources: greys stay grey; Vienot (1999): what has been seen once looks the same again. */
static void
test_greys_and_twice (void **state)
{
  const TsLab colours[] = { { 50, 40, 30 }, { 60, -30, 25 }, { 40, 10, -40 } };

  for (TsVision vision = TS_VISION_USUAL; vision < TS_N_VISIONS; vision++)
    for (double L = 0.0; L <= 100.0; L += 10.0)
      {
        TsMat3 matrix = ts_vision_get_machado (vision, 1.0);

        assert_near (
          ts_delta_e_76 (ts_vision_apply (&matrix, (TsLab){ L, 0, 0 }), (TsLab){ L, 0, 0 }), 0.0,
          0.01);
      }
  for (guint i = 0; i < G_N_ELEMENTS (colours); i++)
    {
      TsMat3 matrix;
      TsLab once;

      assert_true (ts_vision_get_vienot (TS_VISION_DEUTAN, &matrix));
      once = ts_vision_apply (&matrix, colours[i]);
      assert_near (ts_delta_e_76 (ts_vision_apply (&matrix, once), once), 0.0, 0.05);
      assert_true (ts_delta_e_76 (once, colours[i]) > 5.0);
    }
}

/* What the names mean: a red and a green of one lightness come near for red and green cones that
 * are missing, and stay apart where the blue ones are (textbook knowledge, from memory). */
static void
test_red_and_green (void **state)
{
  const TsLab red = { 50, 35, 25 }, green = { 50, -25, 25 };
  double usual = ts_delta_e_2000 (red, green);

  for (TsVision vision = TS_VISION_PROTAN; vision < TS_N_VISIONS; vision++)
    {
      TsMat3 matrix = ts_vision_get_machado (vision, 1.0);
      double seen =
        ts_delta_e_2000 (ts_vision_apply (&matrix, red), ts_vision_apply (&matrix, green));

      if (vision == TS_VISION_TRITAN)
        assert_true (seen > 0.7 * usual);
      else
        assert_true (seen < 0.6 * usual);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_machado),
    cmocka_unit_test (test_vienot),
    cmocka_unit_test (test_greys_and_twice),
    cmocka_unit_test (test_red_and_green),
  };

  return cmocka_run_group_tests_name ("colour/vision", tests, NULL, NULL);
}
