package publish

// Publish makes files the site in dir, from Begin to Stage.Publish. A file of the old site that is not
// in files is gone afterwards. An error leaves dir as it was; a *Refusal among the errors says what the
// grower can do.
func Publish(dir string, files []File) (Report, error) {
	return onDisk.publish(dir, files)
}

func (d disk) publish(dir string, files []File) (Report, error) {
	s, err := d.begin(dir, nil)
	if err != nil {
		return Report{}, err
	}
	for _, f := range files {
		if err := s.Add(f.Path, f.Body); err != nil {
			return Report{}, errAnd(err, s.Drop())
		}
	}
	return s.Publish()
}
