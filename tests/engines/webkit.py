"""WebKitGTK's small browser, driven by WebDriver: the nearest there is to an iPhone here."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from selenium.common.exceptions import WebDriverException
from selenium.webdriver import Remote, WebKitGTKOptions, WebKitGTKService
from selenium.webdriver.remote.client_config import ClientConfig
from selenium.webdriver.remote.file_detector import UselessFileDetector
from selenium.webdriver.remote.remote_connection import RemoteConnection
from selenium.webdriver.remote.webelement import WebElement

from engines.engine import NotInstalled, NotThere

PACKAGE = "webkit2gtk-driver"
LIBRARIES = ("webkit2gtk-4.1", "webkit2gtk-4.0", "webkitgtk-6.0")
ASYNC = """
const [argument, done] = arguments;
(%s)(argument).then((value) => done({ value }), (error) => done({ error: String(error) }));
"""


def mini_browser() -> str:
    """The browser that stands beside the library, not on the path."""
    for library in LIBRARIES:
        for place in (*Path("/usr/lib").glob(f"*/{library}"), Path(f"/usr/libexec/{library}")):
            if (place / "MiniBrowser").exists():
                return str(place / "MiniBrowser")
    raise NotInstalled("MiniBrowser of WebKitGTK", PACKAGE)


@contextmanager
def page_may_change() -> Iterator[None]:
    try:
        yield
    except WebDriverException as error:
        raise NotThere(error.msg) from error


class WebKit:
    """One automation session. It forgets everything at its end, so it is never opened again."""

    name = "WebKit"

    def __init__(self, display: dict[str, str]) -> None:
        driver = shutil.which("WebKitWebDriver")
        if driver is None:
            raise NotInstalled("WebKitWebDriver", PACKAGE)
        options = WebKitGTKOptions()
        options.binary_location = mini_browser()
        options.add_argument("--automation")
        self.service = WebKitGTKService(executable_path=driver, env=display)
        self.service.start()
        # Selenium's own class for this engine says it in a way that Selenium warns of.
        line = RemoteConnection(client_config=ClientConfig(self.service.service_url, timeout=60))
        self.driver = Remote(line, options=options, file_detector=UselessFileDetector())
        self.driver.set_script_timeout(30)
        self.driver.set_window_size(390, 844)

    def open(self, address: str) -> None:
        self.driver.get(address)

    def reload(self) -> None:
        self.driver.refresh()

    def ask(self, function: str, argument: object = None) -> Any:
        answer = self.driver.execute_async_script(ASYNC % function, argument)
        if "error" in answer:
            raise AssertionError(answer["error"])
        return answer.get("value")

    def click(self, xpath: str) -> None:
        with page_may_change():
            self._shown(xpath).click()

    def type(self, xpath: str, text: str) -> None:
        with page_may_change():
            field = self._shown(xpath)
            field.clear()
            field.send_keys(text)

    def choose_file(self, xpath: str, file: Path) -> None:
        with page_may_change():
            self.driver.find_element("xpath", xpath).send_keys(str(file))

    def close(self) -> None:
        self.driver.quit()
        self.service.stop()

    def _shown(self, xpath: str) -> WebElement:
        for element in self.driver.find_elements("xpath", xpath):
            if element.is_displayed():
                self.driver.execute_script(
                    "arguments[0].scrollIntoView({ block: 'center' })", element
                )
                return element
        raise NotThere(xpath)
