/* SPDX-License-Identifier: GPL-3.0-or-later
 * fuzz_font.c - any bytes as a font file: opened, texts of several scripts set, outlines walked.
 * What comes out must keep the promises of type.h, whatever went in.
 */
#include "type/type.h"
#include <fontconfig/fontconfig.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

int LLVMFuzzerTestOneInput(const guint8 *data, gsize size);

static const char *const texts[] = {
    "AVTo fi ffl 12",
    "E\u0301q\u0307 \u00c5\u0160",
    "\u05e9\u05dc\u05d5\u05dd (12) AB",
    "\u0633\u0644\u0627\u0645",
    "\u6d77\u8fba",
    "\u0915\u094d\u0937\u093f",
};

static void
check_outline(const HfOutline *outline)
{
  for (guint c = 0; c < hf_outline_n_contours(outline); c++) {
    guint n = 0;
    const HfCurve *curves = hf_outline_contour(outline, c, &n);
    g_assert(n > 0);
    for (guint i = 0; i < n; i++) {
      const HfCurve *curve = &curves[i], *next = &curves[(i + 1) % n];
      g_assert(curve->p1.x == next->p0.x && curve->p1.y == next->p0.y);
      HfBox box = hf_curve_box(curve);
      g_assert(box.min.x >= -17 && box.max.x <= 17 && box.min.y >= -17 && box.max.y <= 17);
    }
  }
  g_assert(isfinite(hf_outline_area(outline)));
}

static void
check_line(const HfLine *line, const char *text)
{
  gsize length = 0;
  for (guint i = 0; i < line->letters->len; i++)
    length += strlen(g_ptr_array_index(line->letters, i));
  g_assert(length <= strlen(text));
  g_assert(line->joined->len == line->letters->len);
  g_assert(isfinite(line->advance) && isfinite(line->cap_height));
  guint letter = 0;
  for (guint i = 0; i < line->glyphs->len; i++) {
    const HfGlyph *glyph = &g_array_index(line->glyphs, HfGlyph, i);
    g_assert(glyph->letter == letter || glyph->letter == letter + 1);
    g_assert(glyph->letter < line->letters->len && glyph->cluster < strlen(text));
    letter = glyph->letter;
    check_outline(glyph->outline);
  }
}

static void
set_texts(HfFonts *fonts, const HfFace *face)
{
  static const HfTypeOptions hows[] = {
      {NULL, NULL, HF_WAY_AUTO, 0},
      {"-kern,liga=1,-calt", "sr-Latn", HF_WAY_RIGHT_TO_LEFT, 0.25},
  };
  for (gsize i = 0; i < G_N_ELEMENTS(texts); i++)
    for (gsize k = 0; k < G_N_ELEMENTS(hows); k++) {
      g_autoptr(GError) error = NULL;
      g_autoptr(HfLine) line = hf_type_line(fonts, face, texts[i], &hows[k], NULL, &error);
      g_assert((line == NULL) == (error != NULL));
      if (line != NULL)
        check_line(line, texts[i]);
    }
}

/* A text of what the face says that it has, so that a small font is set too. */
static void
set_its_own(HfFonts *fonts, const HfFace *face)
{
  g_autoptr(GString) text = g_string_new(NULL);
  for (gunichar c = 0x20; c < 0x700 && text->len < 400; c++)
    if (c != 0x7f && hf_face_has(face, c) && !g_unichar_iscntrl(c))
      g_string_append_unichar(text, c);
  g_autoptr(HfLine) line = hf_type_line(fonts, face, text->str, NULL, NULL, NULL);
  if (line != NULL)
    check_line(line, text->str);
}

/* No fonts of this machine: what a text lacks is looked up among none. */
static void
hide_fonts(void)
{
  static gsize once;
  if (g_once_init_enter(&once)) {
    FcConfigSetCurrent(FcConfigCreate());
    g_once_init_leave(&once, 1);
  }
}

int
LLVMFuzzerTestOneInput(const guint8 *data, gsize size)
{
  hide_fonts();
  int fd = memfd_create("font", 0);
  g_assert(fd >= 0);
  if (write(fd, data, size) == (gssize)size) {
    g_autofree char *path = g_strdup_printf("/proc/self/fd/%d", fd);
    const HfFaceWanted wishes[] = {
        {NULL, NULL, path, NULL}, {NULL, "Bold", path, NULL}, {NULL, NULL, path, "wght=650"}};
    g_autoptr(HfFonts) fonts = hf_fonts_new();
    for (gsize i = 0; i < G_N_ELEMENTS(wishes); i++) {
      g_autoptr(GError) error = NULL;
      const HfFace *face = hf_fonts_open(fonts, &wishes[i], "fuzz", &error);
      g_assert((face == NULL) == (error != NULL));
      if (face == NULL)
        continue;
      g_assert(g_utf8_validate(hf_face_family(face), -1, NULL));
      g_assert(isfinite(hf_face_cap_height(face)));
      (void)hf_face_may_embed(face);
      set_texts(fonts, face);
      set_its_own(fonts, face);
    }
  }
  close(fd);
  return 0;
}
