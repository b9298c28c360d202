"""The docs page in a real browser: complete without another host, and of use by hand, by keyboard and on a phone."""

import json
import shutil
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlsplit

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait

from service.calculations.registry import calculations
from service.http.pictograms import PICTOGRAMS
from tests.running import Served, serve

PATIENCE = 60
"""Seconds that anything on the page may take; a quiet machine needs two."""
PHONE = {"width": 390, "height": 844, "deviceScaleFactor": 3, "mobile": True}
DESK = {"width": 1200, "height": 900, "deviceScaleFactor": 1, "mobile": False}


@pytest.fixture(scope="module")
def served() -> Iterator[Served]:
    with serve() as found:
        yield found


@pytest.fixture(scope="module")
def browser() -> Iterator[webdriver.Chrome]:
    binary, driver = shutil.which("chromium"), shutil.which("chromedriver")
    if binary is None or driver is None:
        pytest.skip("chromium and chromedriver are not installed here, so no page is looked at")
    options = webdriver.ChromeOptions()
    options.binary_location = binary
    for word in ("--headless=new", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage"):
        options.add_argument(word)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    found = webdriver.Chrome(options, webdriver.ChromeService(driver))
    try:
        yield found
    finally:
        found.quit()


@pytest.fixture
def docs(browser: webdriver.Chrome, served: Served) -> webdriver.Chrome:
    """The page, freshly opened."""
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", DESK)
    browser.get("about:blank")
    browser.get_log("performance")
    browser.get_log("browser")
    browser.get(f"{served.address}/docs")
    _until(browser, "document.querySelectorAll('.opblock').length > 20")
    return browser


def _until(browser: webdriver.Chrome, true: str) -> Any:
    return WebDriverWait(browser, PATIENCE).until(lambda one: one.execute_script(f"return {true}"))


def _hosts(browser: webdriver.Chrome) -> set[str]:
    """Hosts that the page asked, by the browser's own log."""
    found = set()
    for entry in browser.get_log("performance"):
        message = json.loads(entry["message"])["message"]
        if message["method"] == "Network.requestWillBeSent":
            parts = urlsplit(message["params"]["request"]["url"])
            if parts.scheme not in {"data", "about", "blob", "chrome"}:
                found.add(parts.netloc)
    return found


def _operation(browser: webdriver.Chrome, name: str) -> WebElement:
    return browser.find_element(By.ID, f"operations-calculations-{name}")


def test_it_is_complete_without_another_host_and_without_an_error(docs: webdriver.Chrome, served: Served) -> None:
    assert _hosts(docs) == {urlsplit(served.address).netloc}
    assert [entry["message"] for entry in docs.get_log("browser")] == []
    text = docs.find_element(By.TAG_NAME, "body").text
    assert "Caustic burns." in text
    assert "concentrated lye stock" in text


def test_each_calculation_has_its_picture_and_its_summary(docs: webdriver.Chrome) -> None:
    cards = docs.find_elements(By.CSS_SELECTOR, ".all li")
    assert len(cards) == len(calculations()) == len(PICTOGRAMS)
    for card, calculation in zip(cards, calculations().values(), strict=True):
        assert f"/v1/{calculation.name}" in card.text
        assert calculation.summary in card.text
        box = card.find_element(By.TAG_NAME, "svg").rect
        assert box["width"] > 50
        assert box["height"] > 30
    drawn = {card.find_element(By.TAG_NAME, "svg").get_attribute("innerHTML") for card in cards}
    assert len(drawn) == len(cards), "two calculations have the same picture"


def test_a_card_opens_its_calculation_and_trying_it_brings_a_number(docs: webdriver.Chrome) -> None:
    """6 oz of NaOH from a stock of 50 % are 12 oz of stock (by hand)."""
    docs.find_element(By.CSS_SELECTOR, ".all a[href='#/calculations/liquid_split']").click()
    place = _operation(docs, "liquid_split")
    _until(docs, "document.querySelector('#operations-calculations-liquid_split textarea') !== null")
    body = place.find_element(By.TAG_NAME, "textarea")
    body.clear()
    body.send_keys(
        '{"alkalis": [{"alkali": "NaOH", "mass": "6 oz"}], "total_liquid": {"water_ratio": "2:1"}, '
        '"stocks": [{"alkali": "NaOH", "strength": {"mass_fraction": "50 %"}}]}'
    )
    docs.execute_script("arguments[0].click()", place.find_element(By.CSS_SELECTOR, "button.execute"))
    _until(docs, "document.querySelector('#operations-calculations-liquid_split .live-responses-table') !== null")
    answer = place.find_element(By.CSS_SELECTOR, ".live-responses-table .highlight-code").text
    assert "200" in place.find_element(By.CSS_SELECTOR, ".live-responses-table tbody .response-col_status").text
    assert '"stock_draws"' in answer
    assert "340.194" in answer  # 12 oz are 340.194 g
    assert [entry["message"] for entry in docs.get_log("browser")] == []


def test_the_keyboard_alone_reaches_and_opens_a_calculation(docs: webdriver.Chrome) -> None:
    body = docs.find_element(By.TAG_NAME, "body")
    body.send_keys(Keys.TAB)
    first = docs.switch_to.active_element
    assert first.text == "To the contract"
    assert first.rect["x"] >= 0, "the first stop of the keyboard is out of sight"
    for _ in range(60):
        docs.switch_to.active_element.send_keys(Keys.TAB)
        if (docs.switch_to.active_element.get_attribute("href") or "").endswith("/saponification"):
            break
    card = docs.switch_to.active_element
    assert card.value_of_css_property("outline-style") == "solid"
    assert card.value_of_css_property("outline-width") == "3px"
    card.send_keys(Keys.ENTER)
    _until(docs, "document.querySelector('#operations-calculations-saponification textarea') !== null")
    assert docs.execute_script(
        "return document.querySelector('#operations-calculations-saponification').contains(document.activeElement)"
    )
    for _ in range(40):
        docs.switch_to.active_element.send_keys(Keys.TAB)
        if "execute" in (docs.switch_to.active_element.get_attribute("class") or ""):
            break
    docs.switch_to.active_element.send_keys(Keys.ENTER)
    _until(docs, "document.querySelector('#operations-calculations-saponification .live-responses-table') !== null")
    assert "200" in _operation(docs, "saponification").find_element(By.CSS_SELECTOR, ".live-responses-table").text


def test_a_phone_scrolls_it_down_and_never_sideways(docs: webdriver.Chrome) -> None:
    docs.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", PHONE)
    wide = "document.documentElement.scrollWidth"
    assert _until(docs, "window.innerWidth === 390")
    assert docs.execute_script(f"return {wide}") == 390
    docs.find_element(By.CSS_SELECTOR, ".all a[href='#/calculations/stock_mixing']").click()
    _until(docs, "document.querySelector('#operations-calculations-stock_mixing textarea') !== null")
    docs.execute_script("document.querySelector('#operations-calculations-stock_mixing button.execute').click()")
    _until(docs, "document.querySelector('#operations-calculations-stock_mixing .live-responses-table') !== null")
    assert docs.execute_script(f"return {wide}") == 390, "an open calculation is wider than the phone"


@pytest.mark.parametrize("at", ["/", "/words", "/problems", "/problems/not-sensible"])
def test_other_pages_ask_no_other_host_and_fit_a_phone(browser: webdriver.Chrome, served: Served, at: str) -> None:
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", PHONE)
    browser.get_log("performance")
    browser.get_log("browser")
    browser.get(served.address + at)
    assert _hosts(browser) == {urlsplit(served.address).netloc}
    assert [entry["message"] for entry in browser.get_log("browser")] == []
    assert browser.execute_script("return document.documentElement.scrollWidth") <= 390
