/* SPDX-License-Identifier: GPL-3.0-or-later
 * paper.c - what both papers share: names and numbers on them, and how they become bytes.
 *
 * No clock: a file says no date of its own, so the same sign gives the same bytes.
 */
#include "base/error.h"
#include "base/seen.h"
#include "out/sheet-private.h"
#include <cairo-pdf.h>

const char *
hf_paper_name(const HfRecipe *recipe)
{
  return recipe->sign != NULL ? recipe->sign : recipe->name != NULL ? recipe->name : "";
}

static void
append(GString *text, const char *before, const char *value)
{
  if (value != NULL)
    g_string_append_printf(text, "%s%s%s", text->len > 0 ? "  \302\267  " : "", before, value);
}

char *
hf_paper_order(const HfRecipe *recipe)
{
  GString *text = g_string_new(NULL);
  g_autofree char *pieces =
      recipe->quantity > 1 ? g_strdup_printf("%d pieces", recipe->quantity) : NULL;
  append(text, "for ", recipe->customer);
  append(text, "order ", recipe->order_number);
  append(text, "", recipe->date);
  append(text, "", pieces);
  return g_string_free(text, FALSE);
}

char *
hf_paper_proof(const HfRecipe *recipe)
{
  if (recipe->proof == NULL)
    return recipe->revision != NULL ? g_strdup_printf("revision %s", recipe->revision) : NULL;
  return recipe->revision != NULL
             ? g_strdup_printf("proof %s, revision %s", recipe->proof, recipe->revision)
             : g_strdup_printf("proof %s", recipe->proof);
}

char *
hf_paper_digest(const char *digest)
{
  return g_strdup_printf("%.4s-%.4s-%.4s-%.4s", digest, digest + 4, digest + 8, digest + 12);
}

HfPoint
hf_paper_page(HfPaper paper)
{
  /* ISO 216 A4 210 x 297 mm; US Letter 8.5 x 11 in */
  return paper == HF_PAPER_A4 ? hf_point(210 * HF_POINTS_PER_MM, 297 * HF_POINTS_PER_MM)
                              : hf_point(612, 792);
}

static cairo_status_t
take_bytes(void *closure, const unsigned char *bytes, unsigned int n)
{
  g_byte_array_append(closure, bytes, n);
  return CAIRO_STATUS_SUCCESS;
}

gboolean
hf_document_begin(HfDocument *document, const char *title, GError **error)
{
  g_autofree char *seen = hf_seen(title, FALSE);
  document->bytes = g_byte_array_new();
  document->surface = cairo_pdf_surface_create_for_stream(take_bytes, document->bytes, 1, 1);
  document->cr = cairo_create(document->surface);
  hf_pen_init(&document->pen, document->cr, TRUE);
  cairo_pdf_surface_set_metadata(document->surface, CAIRO_PDF_METADATA_TITLE, seen);
  cairo_pdf_surface_set_metadata(document->surface, CAIRO_PDF_METADATA_CREATOR,
                                 "holdfast " HF_VERSION);
  /* cairo would write the hour of the day */
  cairo_pdf_surface_set_metadata(document->surface, CAIRO_PDF_METADATA_CREATE_DATE, NULL);
  return hf_pen_can_write(&document->pen, error);
}

GBytes *
hf_document_end(HfDocument *document, const char *name, GError **error)
{
  cairo_surface_finish(document->surface);
  cairo_status_t status = cairo_surface_status(document->surface);
  if (status == CAIRO_STATUS_SUCCESS)
    return g_byte_array_free_to_bytes(g_steal_pointer(&document->bytes));
  hf_error_set(error, HF_ERROR_IO, name, NULL, "the paper could not be drawn: %s",
               cairo_status_to_string(status));
  return NULL;
}

void
hf_document_clear(HfDocument *document)
{
  hf_pen_clear(&document->pen);
  g_clear_pointer(&document->cr, cairo_destroy);
  g_clear_pointer(&document->surface, cairo_surface_destroy);
  g_clear_pointer(&document->bytes, g_byte_array_unref);
}
