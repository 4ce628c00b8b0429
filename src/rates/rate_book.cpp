#include <algorithm>
#include <filesystem>
#include <system_error>
#include <utility>

#include <fmt/format.h>

#include "input/document.hpp"
#include "input/problems.hpp"
#include "input/reading.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"
#include "rates/built_in_tables.hpp"
#include "rates/read_rates.hpp"

namespace mendworth {

namespace {

/// Reads one document into `book`; throws InputError.
void lay(RateBook& book, std::string_view text, const std::string& source_name) {
  const input::Node root = input::parse_document(text, source_name);
  input::Problems problems(source_name);
  input::TableReader document(root, "", problems);
  read_rates(document, book);
  problems.throw_if_any();
}

void check(const RateBook& book, const std::string& source_name) {
  input::Problems problems(source_name);
  check_default_names(book, problems);
  problems.throw_if_any();
}

RateBook read_built_in() {
  RateBook book;
  for (const BuiltInTable& table : built_in_tables()) lay(book, table.text, table.name);
  check(book, "rates");
  return book;
}

}  // namespace

const RateBook& built_in_rates() {
  static const RateBook book = read_built_in();
  return book;
}

void overlay_rates(RateBook& book, std::string_view toml_text, const std::string& source_name) {
  book = input::read_as(input::FileKind::rates, toml_text, source_name, [&] {
    RateBook next = book;
    lay(next, toml_text, source_name);
    check(next, source_name);
    return next;
  });
}

std::vector<RatesFile> read_rates_directory(const std::string& directory) {
  namespace fs = std::filesystem;
  std::error_code error;
  if (!fs::is_directory(directory, error)) {
    throw FileError(fmt::format("{}: there is no such folder of rates", directory));
  }
  std::vector<std::string> paths;
  for (fs::directory_iterator it(directory, error), end; !error && it != end; it.increment(error)) {
    if (it->path().extension() == ".toml") paths.push_back(it->path().string());
  }
  if (error) throw FileError(fmt::format("{}: cannot be read: {}", directory, error.message()));
  if (paths.empty()) throw FileError(fmt::format("{}: this folder holds no rates (*.toml)", directory));
  std::sort(paths.begin(), paths.end());
  std::vector<RatesFile> files;
  for (const std::string& path : paths) files.push_back({path, read_text_file(path)});
  return files;
}

void overlay_rates_files(RateBook& book, const std::vector<RatesFile>& files, const std::string& directory) {
  RateBook next = book;
  std::vector<Diagnostic> problems;
  for (const RatesFile& file : files) {
    try {
      input::read_as(input::FileKind::rates, file.text, file.path, [&] { lay(next, file.text, file.path); });
    } catch (const InputError& error_in_file) {
      problems.insert(problems.end(), error_in_file.problems().begin(), error_in_file.problems().end());
    }
  }
  if (!problems.empty()) throw InputError(std::move(problems));
  check(next, directory);
  book = std::move(next);
}

void overlay_rates_directory(RateBook& book, const std::string& directory) {
  overlay_rates_files(book, read_rates_directory(directory), directory);
}

}  // namespace mendworth
