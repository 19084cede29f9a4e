//! A document with every block, laid out on both papers: nothing overlaps, nothing leaves its frame.

mod sample;

use keepwright_packet::page::Paper;
use keepwright_packet::pdf;

#[test]
fn every_block_finds_its_place_on_both_papers() {
    for (paper, name) in [(Paper::Letter, "letter"), (Paper::A4, "a4")] {
        let document = sample::document(paper);
        assert_eq!(document.faults(), Vec::<String>::new(), "{name}");
        let bytes = pdf::write(&document).unwrap();
        let path = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("packet-demo-{name}.pdf"));
        std::fs::write(path, &bytes).unwrap();
        assert!(bytes == pdf::write(&document).unwrap(), "{name}: the same document gives the same bytes");
    }
}
