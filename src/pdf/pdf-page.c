/* SPDX-License-Identifier: GPL-3.0-or-later
 * pdf-page.c - the program holdfast-pdf: a PDF on its standard input, one of its pages on its
 * standard output, as SVG or as a picture of dots. It stands alone: poppler is large and reads
 * foreign bytes, so that it may fail, hang or ask for all memory in a process of its own, which has
 * limits (docs/decisions/0021-pdf-in.md).
 *
 *   holdfast-pdf svg 2 < letter.pdf      first a line, fields parted by tabs: pages, page, width
 *                                        and height in points, units of the output a point, images,
 *                                        faces that are not in the file; then the page
 *
 * Exit codes: 0, or why not, as in the table below.
 */
#include "pdf/pdf-exits.h"
#include <cairo-svg.h>
#include <math.h>
#include <poppler.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <unistd.h>

#define MEGABYTE     ((rlim_t)1 << 20)
#define MOST_MEMORY  (1024 * MEGABYTE)
#define MOST_OUTPUT  (256 * MEGABYTE)
#define MOST_SECONDS 10
#define MOST_BYTES   ((gsize)64 << 20)
#define LONG_SIDE    8000.0 /* units of the SVG's longer side: cairo writes to 1/256 of one */
#define MOST_DOTS    3.2e7
#define FEWEST_DOTS  (150 / 72.0) /* a point, where no image says more */

typedef struct {
  PopplerDocument *document;
  PopplerPage *page;
  int pages, number; /* from 1 */
  double width, height, scale;
  guint images;
  GString *faces;
} Job;

static _Noreturn void
leave(HfPdfExit why)
{
  _exit((int)why);
}

static void
limit(int what, rlim_t most)
{
  struct rlimit limit = {most, most};
  setrlimit((__rlimit_resource_t)what, &limit);
}

static GBytes *
read_input(void)
{
  g_autoptr(GByteArray) all = g_byte_array_new();
  static guint8 block[1 << 16];
  for (gsize n; (n = fread(block, 1, sizeof block, stdin)) > 0;) {
    g_byte_array_append(all, block, (guint)n);
    if (all->len > MOST_BYTES)
      leave(HF_PDF_TOO_BIG);
  }
  return g_byte_array_free_to_bytes(g_steal_pointer(&all));
}

static void
open_page(Job *job, int number)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = read_input();
  job->document = poppler_document_new_from_bytes(bytes, NULL, &error);
  if (job->document == NULL)
    leave(g_error_matches(error, POPPLER_ERROR, POPPLER_ERROR_ENCRYPTED) ? HF_PDF_LOCKED
                                                                         : HF_PDF_BROKEN);
  job->pages = poppler_document_get_n_pages(job->document);
  if (job->pages < 1)
    leave(HF_PDF_BROKEN);
  if (number > job->pages)
    leave(HF_PDF_NO_PAGE);
  job->number = number;
  job->page = poppler_document_get_page(job->document, number - 1);
  if (job->page == NULL)
    leave(HF_PDF_BROKEN);
  poppler_page_get_size(job->page, &job->width, &job->height);
  if (!(job->width > 0 && job->height > 0 && job->width < 1e6 && job->height < 1e6))
    leave(HF_PDF_BROKEN);
}

/* Faces that pages up to this one name and the file does not hold: another would be drawn. */
static void
find_faces(Job *job)
{
  job->faces = g_string_new(NULL);
  PopplerFontInfo *info = poppler_font_info_new(job->document);
  PopplerFontsIter *faces = NULL;
  if (!poppler_font_info_scan(info, job->number, &faces))
    return;
  do {
    const char *name = poppler_fonts_iter_get_name(faces);
    if (poppler_fonts_iter_is_embedded(faces) ||
        poppler_fonts_iter_get_font_type(faces) == POPPLER_FONT_TYPE_TYPE3)
      continue;
    g_string_append_printf(job->faces, "%s%s", job->faces->len > 0 ? "," : "",
                           name != NULL ? name : "one without a name");
  } while (poppler_fonts_iter_next(faces));
  for (char *p = job->faces->str; *p != '\0'; p++)
    *p = g_ascii_isprint(*p) && *p != '"' ? *p : '?';
}

/* Dots of the largest image for each point that it is shown on. */
static double
image_dots(Job *job)
{
  double dots = FEWEST_DOTS, largest = 0;
  GList *images = poppler_page_get_image_mapping(job->page);
  for (GList *l = images; l != NULL; l = l->next) {
    const PopplerImageMapping *one = (const PopplerImageMapping *)l->data;
    double w = one->area.x2 - one->area.x1, h = one->area.y2 - one->area.y1;
    job->images++;
    cairo_surface_t *surface = poppler_page_get_image(job->page, one->image_id);
    if (surface == NULL)
      continue;
    double x = cairo_image_surface_get_width(surface), y = cairo_image_surface_get_height(surface);
    if (w * h > largest && MAX(x, y) > 0) {
      largest = w * h;
      dots = MAX(x, y) / MAX(w, h);
    }
    cairo_surface_destroy(surface);
  }
  poppler_page_free_image_mapping(images);
  return MIN(dots, sqrt(MOST_DOTS / (job->width * job->height)));
}

static cairo_status_t
put(void *to, const unsigned char *bytes, unsigned int n)
{
  (void)to;
  return fwrite(bytes, 1, n, stdout) == n ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

static void
put_head(const Job *job)
{
  const double numbers[] = {job->pages,  job->number, job->width,
                            job->height, job->scale,  job->images};
  for (guint i = 0; i < G_N_ELEMENTS(numbers); i++) {
    char text[G_ASCII_DTOSTR_BUF_SIZE];
    g_ascii_dtostr(text, sizeof text, numbers[i]);
    printf("%s\t", text);
  }
  printf("%s\n", job->faces->str);
}

static void
draw(Job *job, cairo_surface_t *surface, gboolean paper)
{
  cairo_t *cr = cairo_create(surface);
  if (paper) {
    cairo_set_source_rgb(cr, 1, 1, 1);
    cairo_paint(cr);
  }
  cairo_scale(cr, job->scale, job->scale);
  poppler_page_render_for_printing(job->page, cr);
  cairo_show_page(cr);
  gboolean failed = cairo_status(cr) != CAIRO_STATUS_SUCCESS;
  cairo_destroy(cr);
  if (failed)
    leave(HF_PDF_BROKEN);
}

static void
put_svg(Job *job)
{
  image_dots(job);
  job->scale = LONG_SIDE / MAX(job->width, job->height);
  put_head(job);
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream(put, NULL, job->width * job->scale,
                                                                 job->height * job->scale);
  draw(job, surface, FALSE);
  cairo_surface_finish(surface);
  if (cairo_surface_status(surface) != CAIRO_STATUS_SUCCESS)
    leave(HF_PDF_BROKEN);
}

static void
put_picture(Job *job)
{
  job->scale = image_dots(job);
  put_head(job);
  cairo_surface_t *surface =
      cairo_image_surface_create(CAIRO_FORMAT_RGB24, MAX(1, (int)ceil(job->width * job->scale)),
                                 MAX(1, (int)ceil(job->height * job->scale)));
  draw(job, surface, TRUE);
  if (cairo_surface_write_to_png_stream(surface, put, NULL) != CAIRO_STATUS_SUCCESS)
    leave(HF_PDF_BROKEN);
}

int
main(int argc, char **argv)
{
  if (argc != 3 || atoi(argv[2]) < 1)
    leave(HF_PDF_MISUSED);
  limit(RLIMIT_AS, MOST_MEMORY);
  limit(RLIMIT_FSIZE, MOST_OUTPUT);
  limit(RLIMIT_CPU, MOST_SECONDS);
  limit(RLIMIT_CORE, 0);
  Job job = {0};
  open_page(&job, atoi(argv[2]));
  find_faces(&job);
  if (g_str_equal(argv[1], "svg"))
    put_svg(&job);
  else
    put_picture(&job);
  fflush(stdout);
  leave(ferror(stdout) ? HF_PDF_TOO_BIG : HF_PDF_DONE);
}
