#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "input/suggest.hpp"
#include "input/utf8.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/read_case.hpp"

namespace {

namespace fs = std::filesystem;
using namespace mendworth;

/// A folder of its own for each test, removed at its end.
class TemporaryFolder {
 public:
  TemporaryFolder() : path_(fs::temp_directory_path() / ("mendworth_text_" + std::to_string(::getpid()))) {
    fs::create_directories(path_);
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;

  [[nodiscard]] std::string write(const std::string& name, const std::string& text) const {
    std::ofstream(path_ / name, std::ios::binary) << text;
    return (path_ / name).string();
  }
  [[nodiscard]] const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

std::string file_error(const std::string& path) {
  try {
    static_cast<void>(read_text_file(path));
  } catch (const FileError& error) {
    return error.what();
  }
  return "no error";
}

}  // namespace

TEST_CASE("read_text_file: the bytes of a file, NUL and line ends included") {
  const TemporaryFolder folder;
  const std::string text("a\r\nb\0c\n", 7);
  CHECK(read_text_file(folder.write("a.toml", text)) == text);
  CHECK(read_text_file(folder.write("empty.toml", "")).empty());
}

TEST_CASE("read_text_file: missing, a folder, a device") {
  const TemporaryFolder folder;
  const std::string missing = (folder.path() / "missing.toml").string();
  CHECK(file_error(missing) == missing + ": there is no such file");
  CHECK(file_error(folder.path().string()) == folder.path().string() + ": is a folder, not a file");
  CHECK(file_error("/dev/null") == "/dev/null: is neither a file nor a pipe");
}

TEST_CASE("read_text_file: a file that may not be read") {
  const TemporaryFolder folder;
  const std::string path = folder.write("closed.toml", "x");
  fs::permissions(path, fs::perms::none);
  if (::geteuid() == 0) return;  // root reads everything
  CHECK(file_error(path) == path + ": cannot be read: Permission denied");
}

TEST_CASE("read_text_file: the limit is the last size that is read") {
  const TemporaryFolder folder;
  const std::string path = folder.write("large.toml", std::string(70'000, 'x'));
  CHECK(read_text_file(path, 70'000).size() == 70'000);
  try {
    static_cast<void>(read_text_file(path, 69'999));
    FAIL("read all the same");
  } catch (const InputError& error) {
    CHECK(std::string(error.what()) ==
          path + ": error: larger than 69999 bytes, which is the most that is read");
  }
}

TEST_CASE("Diagnostic::text leaves out what is not known") {
  CHECK(Diagnostic{"a.toml", 12, 3, "x.y", "found 1", "write 2"}.text() ==
        "a.toml:12:3: error: x.y: found 1 (write 2)");
  CHECK(Diagnostic{"a.toml", 12, 0, "x.y", "found 1", ""}.text() == "a.toml:12: error: x.y: found 1");
  CHECK(Diagnostic{"a.toml", 0, 0, "", "empty", ""}.text() == "a.toml: error: empty");
  CHECK(Diagnostic{"", 0, 0, "", "empty", ""}.text() == "error: empty");
}

TEST_CASE("InputError::what has a line for each problem") {
  const InputError error({{"a", 1, 2, "k", "m", "r"}, {"b", 0, 0, "", "n", ""}});
  CHECK(std::string(error.what()) == "a:1:2: error: k: m (r)\nb: error: n");
  CHECK(error.problems().size() == 2);
}

TEST_CASE("edit_distance: insertions, deletions, substitutions, swaps") {
  using input::edit_distance;
  // Derived by hand; the second is the usual textbook pair of the Levenshtein distance.
  CHECK(edit_distance("", "abc") == 3);
  CHECK(edit_distance("kitten", "sitting") == 3);
  CHECK(edit_distance("wieght", "weight") == 1);
  CHECK(edit_distance("ca", "abc") == 3);  // optimal string alignment: no edit between swapped letters
  CHECK(edit_distance("Spare_Part", "spare-part") == 0);
}

TEST_CASE("nearest: near names only") {
  using input::nearest;
  CHECK(nearest("wieght", {"width", "weight"}) == "weight");
  CHECK(nearest("tactil-swich", {"slide-switch", "tactile-switch"}) == "tactile-switch");
  CHECK_FALSE(nearest("rest", {"risk"}).has_value());
  CHECK_FALSE(nearest("x", {"y"}).has_value());
  CHECK_FALSE(nearest(std::string(1000, 'a'), {"aaaa"}).has_value());
  CHECK(nearest("prise", {"price", "prize"}) == "price");  // the first of equals
}

TEST_CASE("suggestion: the nearest, or a short list, or something else") {
  using input::suggestion;
  CHECK(suggestion("buton", {"button"}) == "did you mean 'button'?");
  CHECK(suggestion("knob", {"button", "fan"}) == "known are: button, fan");
  CHECK(suggestion("knob", {}, "look around") == "look around");
  CHECK(suggestion("knob", {std::string(80, 'b')}, "look around") == "look around");
}

TEST_CASE("find_bad_byte: well-formed UTF-8 and the rest") {
  using input::find_bad_byte;
  CHECK_FALSE(find_bad_byte("plain, \xC3\xA9, \xE2\x82\xAC, \xF0\x9F\x94\xA7").has_value());
  // Published: RFC 3629, section 3 and 10: overlong, surrogate and too high forms are not well-formed.
  for (const char* bad : {"\x80", "\xC0\x80", "\xC3", "\xE0\x80\x80", "\xED\xA0\x80", "\xF4\x90\x80\x80",
                          "\xFF", "\xE2\x82", "\xF0\x9F\x94"}) {
    CHECK(find_bad_byte(bad).has_value());
  }
  const auto at = find_bad_byte("ab\n\xC3\xA9\xFF");
  REQUIRE(at.has_value());
  CHECK(at->line == 2);
  CHECK(at->column == 2);
  CHECK(at->byte == 0xFF);
  CHECK(find_bad_byte(std::string("a\0b", 3)).has_value());
}

TEST_CASE("printable: control characters are shown, long texts cut between characters") {
  using input::printable;
  CHECK(printable("a\tb\x1b[31m") == "a\\x09b\\x1B[31m");
  CHECK(printable("\xC2\x9B") == "\\xC2\\x9B");  // a control sequence introducer to some terminals
  CHECK(printable("\xC3\xA9\xC3\xA9\xC3\xA9", 3) == "\xC3\xA9\xC3\xA9...");
  CHECK(printable("\xFF") == "\\xFF");
}

TEST_CASE("printable: what cannot be seen is spelt out, letters of any script are not") {
  CHECK(input::printable("co\xE2\x80\x8Bunt") == "co\\u200Bunt");
  CHECK(input::printable("5\xC2\xA0mm") == "5\\u00A0mm");
  CHECK(input::printable("a\xE2\x80\xAE"
                         "b") ==
        "a\\u202E"
        "b");
  CHECK(input::printable("\xEF\xBB\xBFx") == "\\uFEFFx");
  CHECK(input::printable("K\xC3\xBC"
                         "che \xE9\x9F\xB3 \xF0\x9F\x94\x8A") ==
        "K\xC3\xBC"
        "che \xE9\x9F\xB3 \xF0\x9F\x94\x8A");
}

TEST_CASE("suggestion: the only name that begins with what was written") {
  const std::vector<std::string> known = {"lithium-cell", "mains", "hot-work", "hot-work-at-height"};
  CHECK(input::suggestion("Lithium", known, "-") == "did you mean 'lithium-cell'?");
  // Two begin so, or too little is written to tell.
  CHECK(input::suggestion("hot-", known, "-") ==
        "known are: lithium-cell, mains, hot-work, hot-work-at-height");
  CHECK(input::suggestion("mai", {"mains-voltage"}, "-") == "known are: mains-voltage");
}
