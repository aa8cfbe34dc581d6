/* SPDX-License-Identifier: GPL-3.0-or-later
 * paper.c - a document of pages: where its bytes go, what it says of itself, how large a page is.
 */
#include "base/seen.h"
#include "out/paper-private.h"
#include "out/sheet-private.h"

static cairo_status_t
take_bytes(void *closure, const unsigned char *bytes, unsigned int n)
{
  g_byte_array_append(closure, bytes, n);
  return CAIRO_STATUS_SUCCESS;
}

/* cairo would write the hour of the day. */
cairo_surface_t *
hf_paper_new(GByteArray *bytes, const HfRecipe *recipe, const char *what)
{
  const char *name = recipe->sign != NULL ? recipe->sign : recipe->name != NULL ? recipe->name : "";
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(take_bytes, bytes, 1, 1);
  g_autofree char *seen = hf_seen(name, FALSE);
  g_autofree char *title = g_strdup_printf("%s, %s", seen, what);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, title);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR, "holdfast " HF_VERSION);
  cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, NULL);
  return surface;
}

GBytes *
hf_paper_finish(cairo_surface_t *surface, GByteArray *bytes, const char *file, GError **error)
{
  g_autoptr(GByteArray) own = bytes;
  cairo_surface_finish(surface);
  if (cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS)
    return g_byte_array_free_to_bytes(g_steal_pointer(&own));
  hf_error_set(error, HF_ERROR_IO, file, NULL, "the paper could not be drawn: %s",
               cairo_status_to_string(cairo_surface_status(surface)));
  return NULL;
}

HfBox
hf_paper_box(HfPaper paper)
{
  /* ISO 216 A4 210 x 297 mm; US Letter 8.5 x 11 in */
  return paper == HF_PAPER_A4 ? (HfBox){{0, 0}, {210 * HF_POINTS_PER_MM, 297 * HF_POINTS_PER_MM}}
                              : (HfBox){{0, 0}, {612, 792}};
}
