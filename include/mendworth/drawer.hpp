#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/case.hpp"

/// The drawer: spare parts on hand, kept in a plain CSV file that people and spreadsheets may edit too.
namespace mendworth {

/// More pieces in one entry are a slip.
inline constexpr int most_drawer_pieces = 1'000'000;

/// The largest drawer that is read, in bytes.
inline constexpr std::size_t largest_drawer = std::size_t{1} << 24U;

/// Pieces that lie together: one row of the file.
struct DrawerEntry {
  /// The name of a candidate as cases give it, or of the part where the part has offers of its own. Not empty.
  std::string candidate;
  int pieces = 0;             ///< 0..most_drawer_pieces
  std::optional<Date> since;  ///< when they came into the drawer; absent: not known
  std::string note;           ///< may be empty
  /// What the row says in the columns that are the user's own, in their order; missing ones are empty.
  std::vector<std::string> own;
};

/// How a file is written, so that a change leaves all else as it was.
struct DrawerFormat {
  char separator = ',';  ///< comma, semicolon or tab
  std::vector<std::string> columns{"candidate", "pieces", "since",
                                   "note"}; /**< as the header has them, with the
                                                                               user's own among them */
  bool byte_order_mark = false;             ///< the file begins with one
  bool crlf = false;                        ///< lines end in CR LF, else in LF
};

/// Spare parts on hand, as their file has them.
struct Drawer {
  std::string source_name;           ///< the file
  std::vector<DrawerEntry> entries;  ///< in the order of the rows
  DrawerFormat format;               ///< how the file is written
};

/// Reads a drawer from CSV (RFC 4180; comma, semicolon or tab, told from the header row; a byte order mark and any
/// line end are taken). Columns: candidate; pieces (a whole number); and, where wanted, since (YYYY-MM-DD) and note,
/// both of which may be empty. Upper and lower case are the same in these names. Other columns are the user's own and
/// are kept. Blanks around a field do not count unless it is quoted, and around the name not at all; rows without
/// anything are left out.
/// Throws InputError with every bad row (the first hundred in full, the rest counted).
[[nodiscard]] Drawer read_drawer(std::string_view csv, const std::string& source_name);

/// The drawer as CSV, in its format: what read_drawer takes for the same drawer. A column since or note that the
/// format lacks is added at the end if an entry has something to say there.
[[nodiscard]] std::string drawer_csv(const Drawer& drawer);

/// The names of the user's own columns, in their order.
[[nodiscard]] std::vector<std::string> own_columns(const Drawer& drawer);

/// All pieces of this name (blanks around it do not count).
[[nodiscard]] long long pieces_of(const Drawer& drawer, std::string_view candidate);

/// Puts pieces in: to those of the same name, date and note; else into an empty entry of that name, whose date and
/// note are then the new ones; else into an entry of their own at the end.
/// Throws InputError if the entry would hold more than most_drawer_pieces; std::invalid_argument if the name is blank,
/// name or note is no UTF-8 text, or pieces is not in 1..most_drawer_pieces.
void add_pieces(Drawer& drawer, std::string_view candidate, int pieces,
                const std::optional<Date>& since = std::nullopt, const std::string& note = "");

/// Takes pieces out, the oldest first, those without a date before all others. Emptied entries go, but the last one of
/// a name stays with 0 pieces: it has the name, and what the user's own columns say of its place.
/// Throws InputError if there are not enough, and changes nothing then; std::invalid_argument if pieces < 1.
void take_pieces(Drawer& drawer, std::string_view candidate, int pieces);

/// Lays what the drawer holds beside a case: sets Candidate::on_hand of every candidate whose name is in the drawer
/// (blanks around a name do not count, all else does) to all pieces of that name; other candidates are left alone.
/// Returns what is worth saying: a name that is nearly a candidate's, or that serves several parts.
[[nodiscard]] std::vector<std::string> lay_out(const Drawer& drawer, Case& c);

}  // namespace mendworth
