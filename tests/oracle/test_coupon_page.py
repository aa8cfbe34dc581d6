# SPDX-License-Identifier: GPL-3.0-or-later
"""What came out of a coupon, said on the page: clicked on its picture in real Chromium, written into the shop file. What is expected
is the recipe's own text: where a hole lies and how wide it is drawn."""
import re

import pytest
from selenium.webdriver.common.action_chains import ActionChains

from conftest import holdfast
from serving import PLATE, Serving

SHOP = "holdfast: 1\nchart:   # ours\n  - {metal: mild steel, thickness: 3 mm, kerf: 1.4 mm, feed: 2600 mm/min}\n"


@pytest.fixture(params=["mm", pytest.param("in", marks=pytest.mark.long)])
def coupon(request, tmp_path):
    done = holdfast("coupon", "--metal", "mild steel", "--thickness", "3 mm", "--kerf", "1.4 mm", "--units", request.param, "-q", "-o", tmp_path / "c")
    assert done.returncode == 0, done.stderr
    return tmp_path / "c" / "coupon.yaml"


def test_the_server_knows_a_coupon_again(coupon, tmp_path):
    shop = coupon.parent / "shop.yaml"
    shop.write_text(SHOP)
    tried = [line.split(":")[-1].split() for line in (coupon.parent / "coupon-results.yaml").read_text().splitlines() if "tried:" in line]
    with Serving(coupon, state=tmp_path / "state") as page:
        seen = page.get("/api/coupon")
        assert [[it["figure"] for it in row["places"]] for row in seen["combs"]] == tried
        holes = {(round(float(x), 3), round(float(y), 3)): d for d, x, y in re.findall(r"hole: \{diameter: ([\d.]+ \w+), at: \[(-?[\d.]+) \w+, (-?[\d.]+) \w+\]", coupon.read_text())}
        unit = 25.4 if " in" in seen["window"] else 1
        for it in seen["combs"][3]["places"]:
            near = min(holes, key=lambda at: (at[0] * unit - it["x"]) ** 2 + (at[1] * unit - it["y"]) ** 2)
            assert (near[0] * unit, near[1] * unit) == pytest.approx((it["x"], it["y"]), abs=0.03) and holes[near] == it["length"]
        for said, says in (({"date": "2026-03-14"}, "nothing is said"), ({"date": "2026-03-14", "holez": "3 mm"}, "holez"), ({"holes": "3.3 mm"}, "date")):
            answer = page.post("/api/learn", {"revision": page.state["revision"], "said": said}, status=400)
            assert says in str(answer) and shop.read_text() == SHOP
        done = page.post("/api/learn", {"revision": page.state["revision"], "said": {"date": "2026-03-14", "holes": seen["combs"][3]["places"][2]["length"]}})
        assert done["file"] == str(shop) and "small-hole" in done["told"]
        assert "coupon: 2026-03-14}" in shop.read_text() and "# ours" in shop.read_text()
        page.post("/api/learn", {"revision": 0, "said": {}}, status=409)


def test_what_is_no_coupon(tmp_path):
    (tmp_path / "board.yaml").write_text(PLATE)
    with Serving(tmp_path / "board.yaml", state=tmp_path / "state") as page:
        assert page.get("/api/coupon") is None
        answer = page.post("/api/learn", {"revision": page.state["revision"], "said": {"date": "2026-03-14", "holes": "3 mm"}}, status=400)
        assert "no coupon" in str(answer)


def test_a_click_on_the_picture_says_what_survived(opened, coupon, tmp_path):
    page = opened(coupon.read_text())
    shop = page.recipe.parent / "shop.yaml"
    shop.write_text(SHOP)
    row = page.until(lambda: page.all(".coupon-row"))[3]
    assert "holes" in row.text
    box, wall = page.view_box(), page.one(".sign-wall")
    hole = sorted((float(y), float(x), d) for d, x, y in re.findall(r"hole: \{diameter: ([\d.]+) \w+, at: \[(-?[\d.]+) \w+, (-?[\d.]+) \w+\]", coupon.read_text()))[2]
    mm = 25.4 if re.search(r"diameter: [\d.]+ in", coupon.read_text()) else 1
    k = wall.rect["width"] / box[2]
    x, y = (hole[1] * mm - box[0]) * k, (-hole[0] * mm - box[1]) * k
    ActionChains(page.browser).move_to_element_with_offset(wall, round(x - wall.rect["width"] / 2), round(y - wall.rect["height"] / 2)).click().perform()
    pressed = page.until(lambda: page.all(".coupon-row [aria-pressed=true]"), seconds=20)
    assert len(pressed) == 1 and float(pressed[0].text) == pytest.approx(float(hole[2]), abs=6e-4)
    page.run("const it = document.querySelector('.coupon [name=date]'); it.value = '2026-03-14'; it.dispatchEvent(new Event('input', {bubbles: true}))")
    page.word("write it into the shop file").click()
    page.until(lambda: page.all(".coupon-told"))
    assert "small-hole" in page.one(".coupon-told").text
    limit, unit = re.search(r"small-hole: ([\d.]+) (mm|in)", shop.read_text()).groups()
    assert float(limit) * (25.4 if unit == "in" else 1) == pytest.approx(float(hole[2]) * mm, abs=0.01)
    assert not page.axe()
