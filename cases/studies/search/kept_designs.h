// cases/studies/search/kept_designs.h — designs that are solved once and kept for good.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <condition_variable>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <string>
#include <vector>

#include "cases/kept_parts.h"
#include "cases/studies/journal.h"
#include "cases/studies/run_study.h"

namespace lodegear {

// Each solved design goes into a file of its own in blocks/ (written under another name, brought to
// the disk, renamed) and a line into the journal. The file is named by the SHA-256 of the design's
// case text together with all else that decides about the outcome, and ends with that of its
// content. Its row has number 1, or 2 if it was solved otherwise than the search asks. A search
// that is started again asks for the same designs and finds them here.

/// "0123abcd-0123456789abcdef.jsonl"; the first half is of the base case, the figures and the
/// versions, the same for all designs of a search.
std::string kept_name(const std::string& base_hash, const std::string& key);

class KeptDesigns {
 public:
  KeptDesigns(const StudyPlan& plan, const Catalogue& catalogue,
              const std::filesystem::path& folder, const StudyOptions& options);

  /// In the order of the designs, solved by several threads if there are several. May be called
  /// from several threads. `seen` is told of each, one at a time. Throws DesignStopped, WriteError.
  std::vector<DesignOutcome> outcomes(const std::vector<Design>& designs, const DesignTask& task);

  /// How many different designs were asked for, and how many of them were kept before.
  int asked() const;
  int found() const;

  /// What the calling thread needs for itself alone: a catalogue, which reads on demand, and the
  /// members of the last designs.
  struct Own {
    Catalogue catalogue;
    KeptParts kept;
  };
  class Borrowed {
   public:
    explicit Borrowed(KeptDesigns& owner);
    ~Borrowed();
    Borrowed(const Borrowed&) = delete;
    Borrowed& operator=(const Borrowed&) = delete;
    Own* operator->() const { return own_.get(); }

   private:
    KeptDesigns& owner_;
    std::unique_ptr<Own> own_;
  };

 private:
  std::string key_of(const Design& design, const DesignTask& task) const;
  DesignOutcome outcome(const Design& design, const DesignTask& task);
  DesignOutcome solved(const std::string& key, const Design& design, const DesignTask& task);
  void release(const std::string& key);
  std::optional<DesignOutcome> kept(const std::string& key, const Design& design);
  void keep(const std::string& key, int number, const Design& design, const DesignOutcome& outcome,
            double seconds);

  const Catalogue& catalogue_;
  const std::filesystem::path folder_;
  const StudyOptions& options_;
  const std::string base_hash_;
  const std::size_t n_figures_;
  const DesignTask task_;
  Journal journal_;
  mutable std::mutex state_;  // all that follows, and the journal
  std::set<std::string> told_;
  std::map<std::string, DesignOutcome> known_;
  std::set<std::string> in_work_;  // so that no two threads solve the same
  std::condition_variable released_;
  std::vector<std::unique_ptr<Own>> free_;
  int found_ = 0;
  int writes_ = 0;
};

}  // namespace lodegear
