/* test-length.c: distances in centimetres and inches
 *
 * SPDX-License-Identifier: GPL-3.0-or-later
 */
#include "ts-test.h"

#include "base/ts-length.h"

/* An inch is 25.4 mm by the international agreement of 1959. */
static void
test_inch (void **state)
{
  assert_near (ts_length_to_mm (24.0, TS_LENGTH_INCHES), 609.6, 1e-9);
  assert_near (ts_length_from_mm (609.6, TS_LENGTH_INCHES), 24.0, 1e-12);
  assert_near (ts_length_to_mm (60.0, TS_LENGTH_CENTIMETRES), 600.0, 1e-9);
}

static void
test_words (void **state)
{
  g_autofree char *cm = ts_length_to_text (604.0, TS_LENGTH_CENTIMETRES);
  g_autofree char *inches = ts_length_to_text (604.0, TS_LENGTH_INCHES);

  assert_string_equal (cm, "60 cm");
  assert_string_equal (inches, "24 in");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_inch),
    cmocka_unit_test (test_words),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
