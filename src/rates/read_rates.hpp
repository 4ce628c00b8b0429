#pragma once

#include <string>
#include <vector>

#include "input/table_reader.hpp"
#include "mendworth/rates.hpp"

namespace mendworth {

/// Lays the tables of a rates document over `book`; problems are collected.
void read_rates(input::TableReader& document, RateBook& book);

/// That the names in default_names are entries of the book, whichever file they come from.
void check_default_names(const RateBook& book, input::Problems& problems);

struct RatesFile {
  std::string path;
  std::string text;
};

/// Every *.toml of a folder, in the order of their names. Throws FileError if there is no such folder or a file cannot be
/// read, InputError if one is too large.
[[nodiscard]] std::vector<RatesFile> read_rates_directory(const std::string& directory);

/// Lays the files over `book`, one after the other. Throws InputError with every problem of all of them.
void overlay_rates_files(RateBook& book, const std::vector<RatesFile>& files, const std::string& directory);

}  // namespace mendworth
