#pragma once

namespace mendworth::cli {

/// What the program hands back to its caller.
enum ExitCode : int {
  answered = 0,      ///< whatever the verdict
  wrong_use = 2,     ///< the command line makes no sense
  bad_data = 3,      ///< an input file is wrong: a case, a shop, rates, a history, a drawer, a quotation
  file_trouble = 4,  ///< a file cannot be read or written
  refused = 5,  ///< a job must not be quoted as it stands: the owner loses by it, or the shop has no licence
  internal_error = 70,   ///< a fault of the program
  out_of_resources = 71  ///< no memory, or no threads, left
};

inline constexpr const char* exit_codes =
    "Exit codes: 0 answered, whatever the verdict; 2 wrong use; 3 an input file is\n"
    "wrong; 4 a file cannot be read or written; 5 refused: the job must not be\n"
    "quoted as it stands; 70 a fault of the program; 71 out of memory or threads.";

}  // namespace mendworth::cli
