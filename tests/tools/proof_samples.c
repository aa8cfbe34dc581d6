/* SPDX-License-Identifier: GPL-3.0-or-later
 * proof_samples FOLDER: writes picture, papers and report of the hand-made signs of sample.h, for
 * tests/oracle/test_proof.py and test_report.py.
 */
#include "../unit/sample.h"

static void
put(const char *folder, const char *name, GBytes *bytes)
{
  g_autofree char *path = g_build_filename(folder, name, NULL);
  g_autoptr(GError) error = NULL;
  g_assert_nonnull(bytes);
  g_file_set_contents(path, g_bytes_get_data(bytes, NULL), (gssize)g_bytes_get_size(bytes), &error);
  g_assert_no_error(error);
  g_bytes_unref(bytes);
}

static void
put_all(const char *folder, const char *name, const Sample *sample)
{
  g_autofree char *own = g_build_filename(folder, name, NULL);
  g_autoptr(GError) error = NULL;
  g_assert_cmpint(g_mkdir_with_parents(own, 0700), ==, 0);
  put(own, "proof.png", hf_out_png(&sample->what, 1600, NULL, &error));
  put(own, "small.png", hf_out_png(&sample->what, 200, NULL, &error));
  put(own, "proof.pdf", hf_out_pdf(&sample->what, HF_PAPER_A4, NULL, &error));
  put(own, "letter.pdf", hf_out_pdf(&sample->what, HF_PAPER_LETTER, NULL, &error));
  put(own, "shop-sheet.pdf", hf_out_sheet(&sample->what, HF_PAPER_A4, NULL, &error));
  put(own, "shop-letter.pdf", hf_out_sheet(&sample->what, HF_PAPER_LETTER, NULL, &error));
  put(own, "report.json", hf_out_report(&sample->what, &(HfReportMore){NULL}));
}

int
main(int argc, char **argv)
{
  static const struct {
    const char *name;
    Sample *(*make)(void);
  } samples[] = {{"boat-yard", sample_boat_yard},
                 {"bakery", sample_bakery},
                 {"nothing", sample_nothing},
                 {"awkward", sample_awkward}};
  g_return_val_if_fail(argc == 2, 2);
  for (guint i = 0; i < G_N_ELEMENTS(samples); i++) {
    g_autoptr(Sample) sample = samples[i].make();
    put_all(argv[1], samples[i].name, sample);
  }
  return 0;
}
