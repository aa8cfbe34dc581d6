/* SPDX-License-Identifier: GPL-3.0-or-later
 * pdf-read.c - a page of a PDF as a drawing: the program holdfast-pdf draws it, as SVG, which our
 * own reader reads; a page that holds nothing but images goes the way of a picture.
 *
 *   letter.pdf ─memory─> holdfast-pdf (limits; may fail) ─memory─> SVG ─> pieces
 */
#include "base/text.h"
#include "drawing/drawing-private.h"
#include "pdf/pdf-exits.h"
#include <fcntl.h>
#include <signal.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <unistd.h>

#define POINT_MM     (25.4 / 72)
#define MOST_BYTES   ((gsize)256 << 20) /* of a page, drawn */
#define WAIT_US      2000
#define MOST_SECONDS 20 /* on the clock: what limits the program counts its own processor only */
#define PROGRAM      "holdfast-pdf"

typedef struct {
  const char *where;
  const char *bytes;
  gsize length;
  guint number; /* of the page, from 1 */
  const HfCancel *cancel;
  /* what came of it */
  char *drawn; /* all of the output; */
  gsize n_drawn, head;
  guint pages, images;
  double width, height, scale; /* points; units of the output a point */
  char **faces;
  GError *error;
} Page;

/* ---- the program ----------------------------------------------------------------------------- */

/* Beside this program, above it where it was built, or where it was installed. */
static char *
find_program(void)
{
  g_autofree char *self = g_file_read_link("/proc/self/exe", NULL);
  g_autofree char *folder = self != NULL ? g_path_get_dirname(self) : g_strdup(".");
  const char *const places[] = {"", "..", "../.."};
  for (guint i = 0; i < G_N_ELEMENTS(places); i++) {
    g_autofree char *path = g_build_filename(folder, places[i], PROGRAM, NULL);
    if (g_file_test(path, G_FILE_TEST_IS_EXECUTABLE))
      return g_steal_pointer(&path);
  }
  return g_strdup(HF_LIBEXEC "/" PROGRAM);
}

static gboolean
refuse(Page *page, HfErrorKind kind, const char *fix, const char *why)
{
  if (page->error == NULL)
    hf_error_set(&page->error, kind, page->where, fix, "%s", why);
  return FALSE;
}

/* A file without a name that holds @bytes; -1: no. */
static int
memory_file(const char *bytes, gsize length)
{
  int file = memfd_create("holdfast", MFD_CLOEXEC);
  for (gsize done = 0; file >= 0 && done < length;) {
    gssize n = write(file, bytes + done, length - done);
    if (n <= 0) {
      close(file);
      return -1;
    }
    done += (gsize)n;
  }
  if (file >= 0)
    lseek(file, 0, SEEK_SET);
  return file;
}

/* Its exit as waitpid() has it; -1 with an error: it was stopped. */
static int
wait_for(Page *page, GPid program)
{
  gint64 latest = g_get_monotonic_time() + MOST_SECONDS * G_USEC_PER_SEC;
  int status = 0;
  while (waitpid(program, &status, WNOHANG) == 0) {
    gboolean late = g_get_monotonic_time() > latest;
    if (late)
      refuse(page, HF_ERROR_TOO_BIG, "print it anew, or save the page as SVG",
             "the page takes too long to draw");
    if (late || !hf_cancel_check(page->cancel, &page->error)) {
      kill(program, SIGKILL);
      waitpid(program, &status, 0);
      return -1;
    }
    g_usleep(WAIT_US);
  }
  return status;
}

static gboolean
took_well(Page *page, int status)
{
  static const struct {
    int exit;
    HfErrorKind kind;
    const char *fix, *why;
  } reasons[] = {
      {HF_PDF_LOCKED, HF_ERROR_BAD_VALUE, "save it without a password",
       "the PDF asks for a password"},
      {HF_PDF_BROKEN, HF_ERROR_BAD_VALUE, "print it anew, or save it as SVG", "the PDF is broken"},
      {HF_PDF_NO_PAGE, HF_ERROR_BAD_VALUE, "say a page that it has", "the PDF has fewer pages"},
      {HF_PDF_TOO_BIG, HF_ERROR_TOO_BIG, "save the page by itself, as SVG",
       "the page is too large"},
  };
  if (status == -1)
    return FALSE;
  int code = WIFEXITED(status) ? WEXITSTATUS(status) : HF_PDF_BROKEN;
  if (WIFSIGNALED(status) &&
      (WTERMSIG(status) == SIGXCPU || WTERMSIG(status) == SIGXFSZ || WTERMSIG(status) == SIGKILL))
    code = HF_PDF_TOO_BIG;
  for (guint i = 0; i < G_N_ELEMENTS(reasons); i++)
    if (code == reasons[i].exit)
      return refuse(page, reasons[i].kind, reasons[i].fix, reasons[i].why);
  return code == HF_PDF_DONE || refuse(page, HF_ERROR_BAD_VALUE, "print it anew, or save it as SVG",
                                       "the PDF is broken: the program that draws it failed");
}

static gboolean
take_output(Page *page, int output)
{
  off_t end = lseek(output, 0, SEEK_END);
  if (end <= 0 || (gsize)end > MOST_BYTES)
    return refuse(page, HF_ERROR_TOO_BIG, "save the page by itself, as SVG",
                  "the page is too large");
  page->n_drawn = (gsize)end;
  page->drawn = (char *)g_malloc(page->n_drawn + 1);
  page->drawn[page->n_drawn] = '\0';
  for (gsize done = 0; done < page->n_drawn;) {
    gssize n = pread(output, page->drawn + done, page->n_drawn - done, (off_t)done);
    if (n <= 0)
      return refuse(page, HF_ERROR_IO, NULL, "what was drawn of the page can't be read back");
    done += (gsize)n;
  }
  return TRUE;
}

static gboolean
take_head(Page *page)
{
  const char *end = (const char *)memchr(page->drawn, '\n', page->n_drawn);
  enum { PAGES, NUMBER, WIDTH, HEIGHT, SCALE, IMAGES, FACES, FIELDS };
  g_autofree char *line = g_strndup(page->drawn, end != NULL ? (gsize)(end - page->drawn) : 0);
  g_auto(GStrv) field = g_strsplit(line, "\t", FIELDS);
  if (end == NULL || g_strv_length(field) != FIELDS)
    return refuse(page, HF_ERROR_BAD_VALUE, "print it anew, or save it as SVG",
                  "the PDF is broken: nothing was drawn of it");
  page->head = (gsize)(end - page->drawn) + 1;
  page->pages = (guint)g_ascii_strtoull(field[PAGES], NULL, 10);
  page->width = g_ascii_strtod(field[WIDTH], NULL);
  page->height = g_ascii_strtod(field[HEIGHT], NULL);
  page->scale = g_ascii_strtod(field[SCALE], NULL);
  page->images = (guint)g_ascii_strtoull(field[IMAGES], NULL, 10);
  page->faces = g_strsplit(field[FACES], ",", -1);
  return page->width > 0 && page->height > 0 && page->scale > 0;
}

static gboolean
start(Page *page, const char *as, int input, int output)
{
  g_autofree char *program = find_program(), *number = g_strdup_printf("%u", page->number);
  const char *const argv[] = {program, as, number, NULL};
  g_autoptr(GError) why = NULL;
  GPid pid;
  int quiet = open("/dev/null", O_WRONLY | O_CLOEXEC);
  gboolean started = g_spawn_async_with_fds(NULL, (char **)argv, NULL, G_SPAWN_DO_NOT_REAP_CHILD,
                                            NULL, NULL, &pid, input, output, quiet, &why);
  if (quiet >= 0)
    close(quiet);
  if (!started)
    return refuse(page, HF_ERROR_NOT_FOUND, "install holdfast whole, or save the page as SVG",
                  "the program that draws PDF is missing: " PROGRAM);
  return took_well(page, wait_for(page, pid)) && take_output(page, output) && take_head(page);
}

/* @as: "svg" or "picture" */
static gboolean
draw_page(Page *page, const char *as)
{
  g_clear_pointer(&page->drawn, g_free);
  g_clear_pointer(&page->faces, g_strfreev);
  int input = memory_file(page->bytes, page->length), output = memory_file(NULL, 0);
  gboolean drawn = input >= 0 && output >= 0 ? start(page, as, input, output)
                                             : refuse(page, HF_ERROR_IO, "free some memory",
                                                      "there is no room to draw the page");
  if (input >= 0)
    close(input);
  if (output >= 0)
    close(output);
  return drawn;
}

/* ---- the drawing ----------------------------------------------------------------------------- */

static gboolean
has_letters(const Page *page)
{
  return g_strstr_len(page->drawn + page->head, (gssize)(page->n_drawn - page->head), "<symbol") !=
         NULL;
}

/* Ids and lines are those of the SVG between, which nobody sees. */
static void
name_pieces(HfDrawing *drawing)
{
  for (guint i = 0; i < drawing->pieces->len; i++) {
    HfDrawingPiece *piece = (HfDrawingPiece *)drawing->pieces->pdata[i];
    g_autofree char *nth = hf_text_ordinal(i + 1);
    g_free(piece->name);
    piece->name = g_strdup_printf("%s shape", nth);
    g_ptr_array_set_size(piece->called, 0);
    g_ptr_array_add(piece->called, g_strdup(piece->name));
    piece->line = 0;
  }
  for (guint i = 0; i < drawing->notes->len; i++)
    ((HfDrawingNote *)drawing->notes->pdata[i])->line = 0;
}

static void
tell(HfDrawing *drawing, const Page *page)
{
  g_autofree char *size = hf_text_size(page->width * POINT_MM, page->height * POINT_MM);
  g_free(drawing->size_rule);
  drawing->size_rule = g_strdup_printf("its page is %s", size);
  drawing->guessed = FALSE;
  hf_drawing_note(drawing, 0, "page %u of %u was read", page->number, page->pages);
}

static HfDrawing *
vector_page(Page *page)
{
  static const HfDrawingWish none = {0};
  gboolean other_face = page->faces[0] != NULL && *page->faces[0] != '\0' && has_letters(page);
  if (other_face) {
    g_autofree char *list = hf_text_list((const char *const *)page->faces, "and");
    hf_error_set(&page->error, HF_ERROR_BAD_VALUE, page->where,
                 "embed the faces when it is saved, or make its text outlines",
                 "the PDF does not hold the faces of its text (%s): another would be drawn", list);
    return NULL;
  }
  HfDrawing *drawing =
      hf_reader_svg.read(page->where, page->drawn + page->head, page->n_drawn - page->head, &none,
                         page->images > 0 ? NULL : &page->error);
  if (drawing == NULL)
    return NULL;
  drawing->mm /= page->scale;
  if (has_letters(page))
    hf_drawing_note(drawing, 0,
                    "its letters came as outlines: a page says what they look like, not what text "
                    "they are of");
  name_pieces(drawing);
  tell(drawing, page);
  return drawing;
}

/* Nothing but images: as they are printed. */
static HfDrawing *
scanned_page(Page *page)
{
  const HfDrawingWish wish = {.cancel = page->cancel};
  if (!draw_page(page, "picture"))
    return NULL;
  HfDrawing *drawing = hf_reader_png.read(page->where, page->drawn + page->head,
                                          page->n_drawn - page->head, &wish, &page->error);
  if (drawing == NULL)
    return NULL;
  drawing->mm = POINT_MM / page->scale / drawing->dot;
  tell(drawing, page);
  hf_drawing_note(drawing, 0, "the page holds nothing but pictures of dots");
  return drawing;
}

static HfDrawing *
read_pdf(const char *where, const char *bytes, gsize length, const HfDrawingWish *wish,
         GError **error)
{
  Page page = {.where = where,
               .bytes = bytes,
               .length = length,
               .number = MAX(wish->page, 1),
               .cancel = wish->cancel};
  HfDrawing *drawing = NULL;
  if (draw_page(&page, "svg")) {
    drawing = vector_page(&page);
    if (drawing == NULL && page.error == NULL)
      drawing = scanned_page(&page);
  }
  if (drawing == NULL)
    g_propagate_error(error, g_steal_pointer(&page.error));
  g_free(page.drawn);
  g_strfreev(page.faces);
  return drawing;
}

#define LOOKED_AT                                                                                  \
  1024 /* bytes in which the mark of a PDF may begin (ISO 32000-1, H.3, note 13)                   \
        */

static gboolean
is_pdf(const char *bytes, gsize length)
{
  return g_strstr_len(bytes, (gssize)MIN(length, LOOKED_AT), "%PDF-") != NULL;
}

const HfDrawingReader hf_reader_pdf = {"PDF", {".pdf"}, FALSE, is_pdf, read_pdf, TRUE};
